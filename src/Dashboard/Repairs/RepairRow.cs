using System.Text.Json.Serialization;
using Washwear.Analytics.Repairs;

namespace Washwear.Dashboard.Repairs;

/// <summary>A repair and whether it is proven.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Visit">Key of the visit.</param>
/// <param name="LeftAt">When the visit ended.</param>
/// <param name="Faults">Codes of the faults that it was for.</param>
/// <param name="State">What is known of the repair.</param>
/// <param name="Contradiction">What speaks against it.</param>
/// <param name="Missing">Codes of the proofs that failed or were not done.</param>
/// <param name="CleanWashes">Clean washes in a row since.</param>
/// <param name="CleanWashesAsked">How many prove it.</param>
/// <param name="SettledAt">When it was proven or contradicted; null: it is not proven yet.</param>
/// <param name="Sentence">The same in words.</param>
/// <param name="Doubts">What looks wrong.</param>
public sealed record RepairRow(
    string Unit,
    string Site,
    string SiteName,
    string TimeZone,
    string Visit,
    DateTimeOffset LeftAt,
    IReadOnlyList<string> Faults,
    RepairState State,
    RepairContradiction Contradiction,
    IReadOnlyList<string> Missing,
    int CleanWashes,
    int CleanWashesAsked,
    DateTimeOffset? SettledAt,
    string Sentence,
    IReadOnlyList<string> Doubts);

/// <summary>Units whose last repair is not proven, or speaks against itself.</summary>
/// <param name="Count">How many there are.</param>
/// <param name="Days">Days that were looked back.</param>
/// <param name="Rows">Those in doubt first, then those that have waited longest; at most ten.</param>
public sealed record UnprovenRepairs(int Count, int Days, IReadOnlyList<RepairRow> Rows)
{
    /// <summary>All of them, in the same order.</summary>
    [JsonIgnore]
    public IReadOnlyList<RepairRow> All { get; init; } = Rows;

    /// <summary>None.</summary>
    public static UnprovenRepairs None { get; } = new(0, 90, []);
}
