using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>What the cleaning page shows: the states now, the compliance of a window, and the choices a reader has.</summary>
/// <param name="Status">Which units need somebody now.</param>
/// <param name="Compliance">How well the washes that were due were kept.</param>
/// <param name="Filter">What the reader asked for.</param>
/// <param name="Operators">Operators that can be chosen.</param>
/// <param name="Regions">Regions that can be chosen.</param>
/// <param name="Models">Models that can be chosen.</param>
/// <param name="Moves">How many units wait for whom.</param>
/// <param name="Trend">The last weeks.</param>
/// <param name="Signs">Units whose washes are getting worse.</param>
public sealed record CleaningPageReport(
    CleaningStatusReport Status,
    ComplianceReport Compliance,
    CleaningFilter Filter,
    IReadOnlyList<Choice> Operators,
    IReadOnlyList<string> Regions,
    IReadOnlyList<Choice> Models,
    MovesReport Moves,
    TrendReport Trend,

    EarlySignsReport Signs);

/// <summary>What a reader of the cleaning page asked for.</summary>
/// <param name="State">Only units in this state; null: all.</param>
/// <param name="Operator">Only units of this operator; null: all.</param>
/// <param name="Region">Only units at sites of this region; null: all.</param>
/// <param name="By">What a row of the compliance table stands for: site, operator, model, region, rule or unit.</param>
/// <param name="WindowDays">Length of the compliance window in days, ending now; 1 to 366.</param>
public sealed record CleaningFilter(CleaningState? State, string? Operator, string? Region, string By, int WindowDays)
{
    /// <summary>Only units at this site; null: all.</summary>
    public string? Site { get; init; }

    /// <summary>Only units of this model; null: all.</summary>
    public string? Model { get; init; }

    /// <summary>Only the unit with this asset tag; null: all.</summary>
    public string? Unit { get; init; }

    /// <summary>Only units for which it is this one's move; null: all.</summary>
    public Mover? Move { get; init; }

    /// <summary>Only units that had no wash that counts for so many days or longer, descaling apart; null: all.</summary>
    public int? UnwashedDays { get; init; }

    /// <summary>No restriction: all units, by site, over the last 28 days.</summary>
    public static CleaningFilter All { get; } = new(null, null, null, "site", 28);
}
