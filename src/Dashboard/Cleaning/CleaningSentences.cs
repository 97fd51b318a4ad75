using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>The findings about cleaning, in one sentence each; page and API say the same.</summary>
public static class CleaningSentences
{
    /// <summary>A rule in words, such as 'a standard wash or higher every trading day, 4 h grace'.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="interval">Its interval in words, where it differs from unit to unit; null: that of the rule.</param>
    /// <returns>The words, without a capital or a full stop.</returns>
    public static string Rule(CleaningRule rule, string? interval = null)
    {
        ArgumentNullException.ThrowIfNull(rule);
        string grade = Text.Words(rule.Grade.ToString()).ToLowerInvariant();
        string wash = rule.Grade == ProgrammeGrade.Descale ? "a descale"
            : (grade[0] == 'i' ? "an " : "a ") + grade + (rule.Grade == ProgrammeGrade.Intensive ? " wash" : " wash or higher");
        interval ??= rule.Basis switch
        {
            EveryTradingDays { Days: 1 } => "every trading day",
            EveryTradingDays days => $"every {Text.Count(days.Days)} trading days",
            EveryHours { Interval.TotalHours: < 72 and var hours } => $"every {Text.Tick(Math.Round(hours, 2))} h",
            EveryHours hours => "every " + Text.Duration(hours.Interval.TotalHours),
            EveryWashes washes => "after every " + (washes.Washes == 1 ? "other wash" : Text.Count(washes.Washes) + " other washes"),
            EveryOperatingHours hours => $"after every {Text.Tick(Math.Round(hours.Hours, 2))} operating hours",
            _ => throw new ArgumentOutOfRangeException(nameof(rule), rule.Basis, "A basis without words."),
        };
        return wash + " " + interval + (rule.Grace == NodaTime.Duration.Zero ? ", no grace" : ", " + Text.Duration(rule.Grace.TotalHours) + " grace");
    }

    /// <summary>How a unit stands, in one sentence.</summary>
    /// <param name="status">How it stands.</param>
    /// <param name="timeZone">Time zone of its site.</param>
    /// <param name="lockedOutSince">When the lockout began; null where there is none, or it is not known.</param>
    /// <returns>A sentence that ends with whose move it is, where it is anybody's.</returns>
    public static string Status(CleaningStatus status, string timeZone, NodaTime.Instant? lockedOutSince = null)
    {
        ArgumentNullException.ThrowIfNull(status);
        DateTimeOffset asOf = status.AsOf.ToDateTimeOffset();
        string washed = status.LastCountedWashEnd is { } end
            ? "the last wash that counts ended " + Text.Ago(end.ToDateTimeOffset(), asOf)
            : "no wash that counts is on record";
        return status.State switch
        {
            CleaningState.Clean => Capital(washed) + Due(status, timeZone, "; the next is due ") + ".",
            CleaningState.Due => Capital(washed) + Due(status, timeZone, "; one was due ") + " and is still within its grace. " + Move(status),
            CleaningState.Overdue => Reason(status) + ": overdue for " + Text.Duration(status.OverdueBy.TotalHours) + "; " + washed + ". " + Move(status),
            CleaningState.LockedOut when status.LastCountedWashEnd > lockedOutSince => Reason(status) + ", but it has washed since: "
                + "the report that the fault was cleared may be missing. " + Capital(washed) + ". " + Move(status),
            CleaningState.LockedOut => Reason(status) + "; " + washed + ". " + Move(status),
            CleaningState.Silent => status.LastHeardAt is { } heard
                ? "Nothing heard since " + Text.Moment(heard.ToDateTimeOffset(), timeZone) + ": it may be clean or not. " + Move(status)
                : "Nothing was ever heard from this unit. " + Move(status),
            CleaningState.Closed => "The site does not trade now; " + washed + ".",
            CleaningState.OutOfService => "Out of service; " + washed + ".",
            _ => throw new ArgumentOutOfRangeException(nameof(status), status.State, "A state without words."),
        };
    }

    /// <summary>The state of a fleet in one sentence.</summary>
    /// <param name="byState">Units by state.</param>
    /// <returns>What waits for somebody, then the rest.</returns>
    public static string Fleet(IReadOnlyDictionary<CleaningState, int> byState)
    {
        ArgumentNullException.ThrowIfNull(byState);
        int Of(CleaningState state) => byState.GetValueOrDefault(state);
        int all = byState.Values.Sum();
        if (all == 0)
        {
            return "No unit is under a cleaning rule.";
        }

        string silent = Of(CleaningState.Silent) is var quiet and > 0 ? "; " + Text.Counted(quiet, "is", "are") + " silent" : string.Empty;
        return Of(CleaningState.LockedOut) + Of(CleaningState.Overdue) == 0
            ? "No unit is overdue or locked out of washing, of " + Text.Count(all) + silent + "."
            : Text.Counted(Of(CleaningState.Overdue), "unit is", "units are") + " overdue for a wash and "
                + Text.Counted(Of(CleaningState.LockedOut), "is", "are") + " locked out of washing, of " + Text.Count(all) + silent + ".";
    }

    /// <summary>The compliance of a window in one sentence.</summary>
    /// <param name="total">All groups together.</param>
    /// <returns>Share on time, and where most of the overdue time went.</returns>
    public static string Compliance(ComplianceRow total)
    {
        ArgumentNullException.ThrowIfNull(total);
        if (total.Due == 0)
        {
            return "No wash was due in this window.";
        }

        string kept = Text.Count(total.OnTime) + " of " + Text.Count(total.Due) + " washes that were due were on time";
        (Cause Cause, double Hours)[] overdue = [.. total.HoursByCause.Where(pair => pair.Key.IsOverdue() && pair.Value > 0)
            .Select(pair => (pair.Key, pair.Value)).OrderByDescending(pair => pair.Value)];
        return overdue.Length == 0
            ? kept + "; nothing was overdue."
            : kept + "; most of the overdue time is down to one cause: "
                + Lower(CleaningWords.Name(overdue[0].Cause)) + " (" + Text.Share(overdue[0].Hours / overdue.Sum(pair => pair.Hours)) + ").";
    }

    private static string Reason(CleaningStatus status) => CleaningWords.Name(status.Lockout ?? status.Cause);

    private static string Move(CleaningStatus status) => status.WhoseMove switch
    {
        Mover.Nobody => string.Empty,
        Mover.Kitchen => "The kitchen's move.",
        Mover.Service => "The service's move.",
        Mover.Approver => "The approver's move.",
        Mover.Supplier => "The supplier's move.",
        Mover.Connection => "Check the connection.",
        _ => throw new ArgumentOutOfRangeException(nameof(status), status.WhoseMove, "A mover without words."),
    };

    private static string Due(CleaningStatus status, string timeZone, string words) =>
        status.Due is { } due ? words + Text.Moment(due.ToDateTimeOffset(), timeZone) : string.Empty;

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    private static string Lower(string words) => char.ToLowerInvariant(words[0]) + words[1..];
}
