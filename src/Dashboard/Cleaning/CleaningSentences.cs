using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>The findings about cleaning, in one sentence each; page and API say the same.</summary>
public static class CleaningSentences
{
    /// <summary>How the states are told.</summary>
    public static string StatusMethod => Texts.Status.Method;

    /// <summary>How compliance is counted.</summary>
    public static string ComplianceMethod => ComplianceTexts.Now.Method;

    /// <summary>Name of those without a region.</summary>
    public static string NoRegion => ComplianceTexts.Now.NoRegion;

    /// <summary>Name of all groups together.</summary>
    public static string AllTogether => ComplianceTexts.Now.AllTogether;

    private static CleaningSentenceTexts Texts => CleaningSentenceTexts.Now;

    /// <summary>A rule in words, such as 'a standard wash or higher every trading day, 4 h grace'.</summary>
    /// <param name="rule">The rule.</param>
    /// <returns>The words, without a capital or a full stop.</returns>
    public static string Rule(CleaningRule rule)
    {
        ArgumentNullException.ThrowIfNull(rule);
        return Rule(rule, rule.Basis switch
        {
            EveryTradingDays { Days: 1 } => Texts.Rule.TradingDay,
            EveryTradingDays days => Fill.In(Texts.Rule.TradingDays, ("count", Text.Count(days.Days))),
            EveryHours { Interval.TotalHours: < 72 and var hours } => Fill.In(Texts.Rule.Hours, ("count", Text.Tick(Math.Round(hours, 2)))),
            EveryHours hours => Fill.In(Texts.Rule.Time, ("time", Text.Duration(hours.Interval.TotalHours))),
            EveryWashes washes => Texts.Rule.OtherWashes.For(washes.Washes),
            EveryOperatingHours hours => Fill.In(Texts.Rule.OperatingHours, ("count", Text.Tick(Math.Round(hours.Hours, 2)))),
            _ => throw new ArgumentOutOfRangeException(nameof(rule), rule.Basis, null),
        });
    }

    /// <summary>A rule in words whose interval depends on the water.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="fewest">The shortest interval, in other washes.</param>
    /// <param name="most">The longest one.</param>
    /// <returns>The words, without a capital or a full stop.</returns>
    public static string RuleByHardness(CleaningRule rule, int fewest, int most)
    {
        ArgumentNullException.ThrowIfNull(rule);
        return Rule(rule, Fill.In(Texts.Rule.ByHardness, ("fewest", Text.Count(fewest)), ("most", Text.Count(most))));
    }

    /// <summary>A rule in words that goes by a site's water.</summary>
    /// <param name="rule">The rule as it holds there.</param>
    /// <param name="mgPerL">Hardness of the water in mg/L as calcium carbonate; null: nobody has measured it.</param>
    /// <returns>The words, without a capital or a full stop.</returns>
    public static string RuleForWater(CleaningRule rule, double? mgPerL) => mgPerL is { } known
        ? Fill.In(Texts.Rule.ForWater, ("rule", Rule(rule)), ("hardness", Text.Hardness(known)))
        : Fill.In(Texts.Rule.Strictest, ("rule", Rule(rule)));

    /// <summary>A doubt: no programme of a model is thorough enough for a rule.</summary>
    /// <param name="rule">Code of the rule.</param>
    /// <param name="model">Code of the model.</param>
    public static string NoProgramme(string rule, string model) => Fill.In(Texts.Rule.NoProgramme, ("rule", rule), ("model", model));

    /// <summary>A doubt: a wash takes longer than a rule leaves for it.</summary>
    /// <param name="rule">Code of the rule.</param>
    /// <param name="model">Code of the model.</param>
    /// <param name="hours">Hours that the shortest wash takes.</param>
    /// <param name="interval">Hours within which the next is due.</param>
    public static string TooLong(string rule, string model, double hours, double interval) => Fill.In(
        Texts.Rule.TooLong, ("rule", rule), ("model", model), ("time", Text.Duration(hours)), ("interval", Text.Duration(interval)));

    /// <summary>A doubt: sites whose water nobody has measured.</summary>
    /// <param name="sites">How many, above 0.</param>
    public static string UnknownHardness(int sites) => Texts.Rule.UnknownHardness.For(sites);

    /// <summary>A doubt: units under no rule.</summary>
    /// <param name="units">How many, above 0.</param>
    public static string UnderNoRule(int units) => Texts.Status.UnderNoRule.For(units);

    /// <summary>How a unit stands, in one sentence.</summary>
    /// <param name="status">How it stands.</param>
    /// <param name="timeZone">Time zone of its site.</param>
    /// <param name="descales">Whether the rule asks for descaling: washes are then on record that say nothing about it.</param>
    /// <param name="notYetThere">The day on which it will be commissioned; null: it has been, or nobody said when.</param>
    /// <returns>A sentence that ends with whose move it is, where it is anybody's.</returns>
    public static string Status(CleaningStatus status, string timeZone, bool descales = false, DateOnly? notYetThere = null)
    {
        ArgumentNullException.ThrowIfNull(status);
        StatusTexts texts = Texts.Status;
        string washed = status.LastCountedWashEnd is { } end
            ? Fill.In(descales ? texts.Descaled : texts.Washed, ("ago", Text.Ago(end.ToDateTimeOffset(), status.AsOf.ToDateTimeOffset())))
            : descales ? texts.NeverDescaled : texts.NeverWashed;
        Cause cause = status.Lockout ?? status.Cause;
        (string, string)[] values =
        [
            ("cause", descales && cause == Cause.NobodyStarted ? texts.NobodyDescaled : CleaningWords.Name(cause)),
            ("time", Text.DurationAfter(status.OverdueBy.TotalHours)),
            ("due", Text.Moment(status.Due?.ToDateTimeOffset(), timeZone)),
            ("since", Text.Moment(status.LastHeardAt?.ToDateTimeOffset(), timeZone)),
            ("move", status.WhoseMove == Mover.Nobody ? string.Empty : Texts.Moves[status.WhoseMove]),
        ];
        string After(string text) => Fill.In(text, [.. values, ("washed", washed)]);
        string Begun(string text) => Fill.In(text, [.. values, ("washed", Text.Capital(washed))]);
        return status.State switch
        {
            CleaningState.Clean => Begun(status.Due is null ? texts.Clean : texts.CleanDue),
            CleaningState.Due => Begun(status.Due is null ? texts.Due : texts.DueSince),
            CleaningState.Overdue => After(texts.Overdue),
            CleaningState.LockedOut when status.HasWashedSince => Begun(texts.LockedOutWashed),
            CleaningState.LockedOut => After(texts.LockedOut),
            CleaningState.Silent => After(status.LastHeardAt is null ? texts.NeverHeard : texts.Silent),
            CleaningState.Closed => After(texts.Closed),
            CleaningState.OutOfService when notYetThere is { } day => Fill.In(texts.NotYetThere, ("date", Text.Date(day))),
            CleaningState.OutOfService => After(texts.OutOfService),
            _ => throw new ArgumentOutOfRangeException(nameof(status), status.State, null),
        };
    }

    /// <summary>The state of a fleet in one sentence.</summary>
    /// <param name="byState">Units by state.</param>
    /// <returns>What waits for somebody, then the rest.</returns>
    public static string Fleet(IReadOnlyDictionary<CleaningState, int> byState)
    {
        ArgumentNullException.ThrowIfNull(byState);
        FleetTexts texts = Texts.Fleet;
        int Of(CleaningState state) => byState.GetValueOrDefault(state);
        int all = byState.Values.Sum();
        if (all == 0)
        {
            return texts.NoRule;
        }

        bool isAnySilent = Of(CleaningState.Silent) > 0;
        string text = Of(CleaningState.LockedOut) + Of(CleaningState.Overdue) == 0
            ? isAnySilent ? texts.NoneButSilent : texts.None
            : isAnySilent ? texts.SomeAndSilent : texts.Some;
        return Fill.In(
            text,
            ("overdue", texts.Overdue.For(Of(CleaningState.Overdue))),
            ("locked_out", texts.LockedOut.For(Of(CleaningState.LockedOut))),
            ("all", Text.Count(all)),
            ("silent", texts.Silent.For(Of(CleaningState.Silent))));
    }

    /// <summary>The compliance of a window in one sentence.</summary>
    /// <param name="total">All groups together.</param>
    /// <returns>Share on time, and where most of the overdue time went.</returns>
    public static string Compliance(ComplianceRow total)
    {
        ArgumentNullException.ThrowIfNull(total);
        ComplianceTexts texts = ComplianceTexts.Now;
        if (total.Due == 0)
        {
            return texts.NoneDue;
        }

        (string, string)[] kept = [("on_time", Text.Count(total.OnTime)), ("due", Text.Count(total.Due))];
        (Cause Cause, double Hours)[] overdue = [.. total.HoursByCause.Where(pair => pair.Key.IsOverdue() && pair.Value > 0)
            .Select(pair => (pair.Key, pair.Value)).OrderByDescending(pair => pair.Value)];
        return overdue.Length == 0
            ? Fill.In(texts.NoneOverdue, kept)
            : Fill.In(
                texts.Mostly,
                [.. kept, ("cause", CleaningWords.InSentence(overdue[0].Cause)), ("share", Text.Share(overdue[0].Hours / overdue.Sum(pair => pair.Hours)))]);
    }

    private static string Rule(CleaningRule rule, string interval) => Fill.In(
        rule.Grace == NodaTime.Duration.Zero ? Texts.Rule.WithoutGrace : Texts.Rule.WithGrace,
        ("wash", Texts.Washes[rule.Grade]), ("interval", interval), ("time", Text.Duration(rule.Grace.TotalHours)));
}
