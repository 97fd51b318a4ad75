using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>Counts what no figure uses, by reason; a reason that nothing was left out for is told with 0.</summary>
internal static class LeftOutCounts
{
    private const string Voided = "a part change was voided, or replaced by a correction";
    private const string NoRecord = "a unit has the position and no part change on record: what is in it was fitted before records began";

    private static readonly (string Kind, string Reason)[] OfParts =
    [
        ("before_records", PartLives.BeforeRecords),
        ("before_records", PartLives.BeforeWatch),
        ("unknown_start", PartLives.UnknownStart),
        ("impossible_order", PartLives.NotRemoved),
        ("impossible_order", PartLives.NoLength),
        ("impossible_order", PartLives.AfterRetirement),
        ("not_on_clock", FleetLives.NotOnThisClock),
    ];

    /// <summary>All reasons with their counts.</summary>
    /// <param name="excluded">Lives left out, by reason.</param>
    /// <param name="voided">Voided part changes at the position.</param>
    /// <param name="unitsWithoutRecord">Units that have the position and no part change on record.</param>
    public static IReadOnlyList<LeftOutRow> Of(IReadOnlyDictionary<string, int> excluded, int voided, int unitsWithoutRecord) =>
    [
        .. OfParts.Select(known => new LeftOutRow(known.Kind, Remarks.Told(known.Reason), excluded.GetValueOrDefault(known.Reason), "parts")),
        .. excluded.Where(pair => !OfParts.Any(known => known.Reason == pair.Key))
            .Select(pair => new LeftOutRow("other", Remarks.Told(pair.Key), pair.Value, "parts")),
        new LeftOutRow("before_records", Remarks.Told(NoRecord), unitsWithoutRecord, "units"),
        new LeftOutRow("voided", Remarks.Told(Voided), voided, "records"),
    ];

    /// <summary>The same as the answer's basis tells it: what was left out, by reason.</summary>
    /// <param name="rows">All reasons.</param>
    public static IReadOnlyDictionary<string, int> Excluded(IEnumerable<LeftOutRow> rows) =>
        rows.Where(row => row.Count > 0).ToDictionary(row => row.Reason, row => row.Count);

    /// <summary>How many units have a position and no life at it on record.</summary>
    /// <param name="snapshot">The registry.</param>
    /// <param name="position">Code of the position.</param>
    /// <param name="model">Only units of this model; null: all.</param>
    /// <param name="lives">The lives at the position.</param>
    public static int UnitsWithoutRecord(RegistrySnapshot snapshot, string position, string? model, IEnumerable<FleetLife> lives)
    {
        HashSet<int> known = [.. lives.Select(life => life.Unit.Id)];
        return snapshot.UnitList.Count(unit => !known.Contains(unit.Id) && unit.Model.Positions.ContainsKey(position)
            && (model is null || string.Equals(unit.Model.Resource.Model, model, StringComparison.OrdinalIgnoreCase)));
    }
}
