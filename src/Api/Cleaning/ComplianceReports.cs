using System.Globalization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Assembles the report on how the washes that were due were kept.</summary>
/// <param name="runs">What units came to.</param>
public sealed class ComplianceReports(FleetRuns runs)
{
    /// <summary>What a row can stand for, and the code and name of a unit's group.</summary>
    private static readonly Dictionary<string, Func<UnitTerms, RuleTerms, (string Code, string Name)>> Groupings = new()
    {
        ["unit"] = (unit, _) => (unit.Unit.Resource.Unit, unit.Unit.Resource.Unit),
        ["site"] = (unit, _) => (unit.Unit.Site.Resource.Site, unit.Unit.Site.Resource.Name),
        ["operator"] = (unit, _) => (unit.Unit.Site.Operator.Resource.Operator, unit.Unit.Site.Operator.Resource.Name),
        ["model"] = (unit, _) => (unit.Unit.Model.Resource.Model, unit.Unit.Model.Resource.Name),
        ["region"] = (unit, _) => (unit.Unit.Site.Resource.Region ?? "", unit.Unit.Site.Resource.Region ?? CleaningSentences.NoRegion),
        ["rule"] = (_, rule) => (rule.Entry.Resource.Rule, RuleWords.Of(rule)),
    };

    /// <summary>Until when windows run that end now: who asks again within the hour is answered alike, and what was counted can be kept.</summary>
    /// <param name="asOf">The instant.</param>
    internal static DateTimeOffset LastFullHour(DateTimeOffset asOf) => asOf.AddTicks(-(asOf.UtcTicks % TimeSpan.TicksPerHour));

    /// <summary>Codes of what a row can stand for.</summary>
    public static IReadOnlyCollection<string> GroupingCodes => Groupings.Keys;

    /// <summary>The compliance of a window.</summary>
    /// <param name="filter">Which units; its state is not looked at.</param>
    /// <param name="by">What a row stands for, one of <see cref="GroupingCodes"/>.</param>
    /// <param name="from">Start of the window, inclusive.</param>
    /// <param name="to">End of the window, exclusive.</param>
    /// <param name="asOf">The instant of the question; a window that ends later is refused by the endpoint.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <param name="remember">Whether the same window will be asked for again soon.</param>
    public async Task<ComplianceReport> AssembleAsync(
        CleaningFilter filter, string by, DateTimeOffset from, DateTimeOffset to, DateTimeOffset asOf, CancellationToken cancellationToken,
        bool remember = false)
    {
        var window = new Interval(Instant.FromDateTimeOffset(from), Instant.FromDateTimeOffset(to));
        IReadOnlyList<UnitTallies> counted = await runs.CountAsync(
            snapshot => CleaningReports.Select(snapshot, filter, from, to), [window], cancellationToken, remember);
        (ComplianceSum total, IReadOnlyCollection<ComplianceSum> groups) = Sum(counted, by, window);
        ComplianceRow all = total.ToRow();
        return new ComplianceReport(
            new Basis(asOf, from, to, CleaningSentences.ComplianceMethod, null, all.Due, null, Excluded(total),
                [.. RuleWords.Doubts([.. counted.SelectMany(unit => unit.Unit.Rules, (unit, rule) => (unit.Unit, rule))])]),
            by,
            CleaningSentences.Compliance(all),
            all,
            [.. groups.Select(group => group.ToRow()).OrderBy(SortKey, StringComparer.Ordinal)],
            null);
    }

    /// <summary>The compliance of windows that follow each other, counted in one pass.</summary>
    /// <param name="filter">Which units; its state is not looked at.</param>
    /// <param name="windows">The windows, each beginning where the one before ends; at least one.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<WindowCompliance>> AssembleWindowsAsync(
        CleaningFilter filter, IReadOnlyList<Interval> windows, CancellationToken cancellationToken)
    {
        (DateTimeOffset from, DateTimeOffset to) = (windows[0].Start.ToDateTimeOffset(), windows[^1].End.ToDateTimeOffset());
        IReadOnlyList<UnitTallies> counted = await runs.CountAsync(
            snapshot => CleaningReports.Select(snapshot, filter, from, to), windows, cancellationToken, remember: true);
        ComplianceSum[] totals = [.. windows.Select(_ => new ComplianceSum("all", CleaningSentences.AllTogether))];
        var spoken = new List<(RuleTerms Rule, CleaningTally Tally, Duration WithoutRule)>();

        // Unit by unit, as what a unit came to lies together in memory.
        foreach (UnitTallies unit in counted)
        {
            for (int i = 0; i < totals.Length; i++)
            {
                Speak(unit, windows[i], i, spoken);
                foreach ((RuleTerms rule, CleaningTally tally, Duration withoutRule) in spoken)
                {
                    totals[i].Add(unit.Unit, rule.Rule, tally, withoutRule, windows[i]);
                }
            }
        }

        return [.. windows.Select((window, i) => new WindowCompliance(window, totals[i].ToRow(), totals[i].Units))];
    }

    /// <summary>Sort key of a row: lowest share first, then the code.</summary>
    /// <param name="row">The row.</param>
    public static string SortKey(ComplianceRow row) =>
        string.Create(CultureInfo.InvariantCulture, $"{row.OnTimeShare?.Value ?? 2:F9} {row.Group.ToUpperInvariant()}");

    /// <summary>Adds up the one window that was counted.</summary>
    /// <param name="counted">What units came to.</param>
    /// <param name="by">What a group stands for, one of <see cref="GroupingCodes"/>.</param>
    /// <param name="window">The window.</param>
    private static (ComplianceSum Total, IReadOnlyCollection<ComplianceSum> Groups) Sum(
        IReadOnlyList<UnitTallies> counted, string by, Interval window)
    {
        var total = new ComplianceSum("all", CleaningSentences.AllTogether);
        var groups = new Dictionary<string, ComplianceSum>(StringComparer.OrdinalIgnoreCase);
        Func<UnitTerms, RuleTerms, (string Code, string Name)> groupOf = Groupings[by];
        var spoken = new List<(RuleTerms Rule, CleaningTally Tally, Duration WithoutRule)>();
        foreach (UnitTallies unit in counted)
        {
            Speak(unit, window, 0, spoken);
            foreach ((RuleTerms rule, CleaningTally tally, Duration withoutRule) in spoken)
            {
                total.Add(unit.Unit, rule.Rule, tally, withoutRule, window);
                (string code, string name) = groupOf(unit.Unit, rule);
                if (!groups.TryGetValue(code, out ComplianceSum? group))
                {
                    groups[code] = group = new ComplianceSum(code, name);
                }

                group.Name = name;
                group.Add(unit.Unit, rule.Rule, tally, withoutRule, window);
            }
        }

        return (total, groups.Values);
    }

    // Rules of one grade follow each other in time: what none of them covers is time without a rule, once.
    // Asked for each unit and window of a large fleet: the list is the caller's, and used again.
    private static void Speak(
        UnitTallies unit, Interval window, int index, List<(RuleTerms Rule, CleaningTally Tally, Duration WithoutRule)> spoken)
    {
        spoken.Clear();
        IReadOnlyList<RuleTerms> rules = unit.Unit.Rules;
        for (int i = 0; i < rules.Count;)
        {
            ProgrammeGrade grade = rules[i].Rule.Grade;
            int begin = spoken.Count;
            Duration uncovered = window.Duration;
            for (; i < rules.Count && rules[i].Rule.Grade == grade; i++)
            {
                if (unit.Unit.SpeaksOf(rules[i].Rule, window))
                {
                    CleaningTally tally = unit.ByRule[i][index];
                    uncovered -= window.Duration - tally.Of(Cause.NoRule);
                    spoken.Add((rules[i], tally, Duration.Zero));
                }
            }

            if (spoken.Count > begin)
            {
                spoken[begin] = spoken[begin] with { WithoutRule = uncovered };
            }
        }
    }

    private static Dictionary<string, int> Excluded(ComplianceSum total)
    {
        (string Reason, int Count)[] reasons =
            [("silent_at_deadline", total.Unknown), ("out_of_service_when_due", total.Excused)];
        return reasons.Where(reason => reason.Count > 0).ToDictionary(reason => reason.Reason, reason => reason.Count);
    }
}

/// <summary>The compliance of one window.</summary>
/// <param name="Window">The window.</param>
/// <param name="Total">All units together.</param>
/// <param name="Units">Due washes and those kept of each unit, by the unit's number.</param>
public sealed record WindowCompliance(Interval Window, ComplianceRow Total, IReadOnlyList<(int Unit, UnitShare Share)> Units);
