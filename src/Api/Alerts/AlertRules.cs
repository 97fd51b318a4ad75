using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Alerts;

/// <summary>A state that is worth an alert.</summary>
/// <param name="Kind">Which kind of alert.</param>
/// <param name="Unit">Asset tag.</param>
/// <param name="Rule">Code of the rule; null where the kind concerns the unit as a whole.</param>
/// <param name="Since">Since when it holds; null: not known.</param>
/// <param name="Sentence">What holds.</param>
internal sealed record FoundState(AlertKind Kind, string Unit, string? Rule, DateTimeOffset? Since, string Sentence);

/// <summary>When an alert opens and when it has ended; no clock, no database.</summary>
internal static class AlertRules
{
    /// <summary>The states that are worth an alert, one a unit, kind and rule.</summary>
    /// <param name="rows">How every unit stands.</param>
    /// <param name="overdueHours">Hours past the deadline from which a unit counts.</param>
    public static IReadOnlyList<FoundState> Find(IEnumerable<UnitCleaning> rows, double overdueHours) =>
    [
        .. rows.Select(row => row.State switch
            {
                CleaningState.Overdue when row.OverdueHours >= overdueHours => new FoundState(AlertKind.Overdue, row.Unit, row.Rule, row.Since, row.Sentence),
                CleaningState.LockedOut => new FoundState(AlertKind.LockedOut, row.Unit, null, row.Since, row.Sentence),
                CleaningState.Silent => new FoundState(AlertKind.Silent, row.Unit, null, row.Since, row.Sentence),
                _ => null,
            })
            .OfType<FoundState>()
            .DistinctBy(found => Key(found.Kind, found.Unit, found.Rule)),
    ];

    /// <summary>The units under an early sign, one each; all its signs in one sentence after another.</summary>
    /// <param name="signs">The signs that stand.</param>
    public static IEnumerable<FoundState> Find(IEnumerable<UnitSign> signs) => signs.GroupBy(row => row.Unit)
        .Select(unit => new FoundState(
            AlertKind.EarlySign, unit.Key, null, unit.Min(row => row.Sign.Since), string.Join(' ', unit.Select(row => row.Sign.Sentence))));

    /// <summary>Why an alert has ended; null: it holds, or another state hides it so that nobody can tell.</summary>
    /// <param name="alert">The alert.</param>
    /// <param name="rows">How its unit stands, under all rules.</param>
    public static string? Ended(Alert alert, IEnumerable<UnitCleaning> rows)
    {
        UnitCleaning[] own = [.. rows.Where(row => alert.Rule is null || string.Equals(row.Rule, alert.Rule, StringComparison.OrdinalIgnoreCase))];
        CleaningState state = AlertWords.State(alert.Kind) ?? throw new ArgumentOutOfRangeException(nameof(alert), alert.Kind, "Of no state.");
        return own.Length == 0 ? "No cleaning rule asks about it any more."
            : own.Any(row => Holds(state, row.State)) ? null
            : own[0].Sentence;
    }

    /// <summary>What tells two lives apart.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="unit">Asset tag.</param>
    /// <param name="rule">Code of the rule.</param>
    public static (AlertKind Kind, string Unit, string Rule) Key(AlertKind kind, string unit, string? rule) =>
        (kind, unit.ToUpperInvariant(), (rule ?? string.Empty).ToUpperInvariant());

    // Where several states would hold, the one named last is shown: those after the alert's own only hide it.
    private static bool Holds(CleaningState alerts, CleaningState now) => now >= alerts && now != CleaningState.OutOfService;
}
