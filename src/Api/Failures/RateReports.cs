using System.Globalization;
using Washwear.Analytics.Rates;
using Washwear.Api.Http;
using Washwear.Api.PartLife;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Failures;

/// <summary>Assembles who fails more often than the fleet.</summary>
internal static class RateReports
{
    /// <summary>Share of the calls that may be wrong.</summary>
    public const double FalseDiscoveryRate = 0.10;

    private const double Level = 0.95;
    private const double Thousand = 1000;
    private const double MsPerYear = 365.25 * 86_400_000;

    /// <summary>The ranking.</summary>
    /// <param name="view">The failures.</param>
    /// <param name="source">What they were read from.</param>
    /// <param name="page">The page asked for.</param>
    public static RatesReport Of(FailureView view, FailureSource source, PageRequest page)
    {
        Group[] groups = view.Choice.By == RateGroup.PartNumber ? PartNumbers(view, source) : Units(view);
        FleetRate fleet = GammaPoisson.Fit([.. groups.Select(group => group.Failures)], [.. groups.Select(group => group.Years)]);
        IReadOnlyList<double?> p = ExcessCount.PValues([.. groups.Select(group => group.Failures)], [.. groups.Select(group => group.Years)]);
        IReadOnlyList<double?> q = FalseDiscovery.Adjust(p);
        // Bounds cost more than the order, so only the rows that are shown get them.
        int[] order = [.. Enumerable.Range(0, groups.Length).Where(i => groups[i].Years > 0)
            .OrderByDescending(i => Score(groups[i], fleet))
            .ThenBy(i => p[i] ?? 1)
            .ThenBy(i => groups[i].Code, StringComparer.OrdinalIgnoreCase)];
        PageOf<int> shown = Paging.TakeSorted([.. Enumerable.Range(0, order.Length)], Rank, page);
        RateFigures all = Figures(
            groups.Sum(group => group.Failures), groups.Sum(group => group.Years),
            view.Choice.By == RateGroup.PartNumber ? null : groups.Sum(group => group.Washes));
        return new RatesReport(
            new Basis(
                view.AsOf, view.Choice.From, view.Choice.To,
                RateSentences.Method,
                null, order.Length, all.Failures, Excluded(view, groups), Remarks.Told(fleet.Doubts)),
            RateSentences.Of(order.Length, [.. order.Where(i => q[i] <= FalseDiscoveryRate).Select(i => groups[i].Code)], all, view.Choice),
            view.Choice.By,
            FalseDiscoveryRate,
            all,
            RateSentences.Spread(fleet, view.Choice.By),
            [.. shown.Items.Select(rank => order[rank]).Select(i => Row(groups[i], groups, fleet, p[i], q[i]))],
            shown.Next);
    }

    /// <summary>Failures against what they are counted against.</summary>
    /// <param name="failures">Failures.</param>
    /// <param name="years">Unit-years.</param>
    /// <param name="washes">Washes; null: not told.</param>
    public static RateFigures Figures(int failures, double years, double? washes) => new(
        failures,
        years,
        PoissonRate.Exact(failures, years, Level),
        washes,
        washes is { } ran ? PoissonRate.Exact(failures, ran / Thousand, Level) : null);

    private static string Rank(int rank) => rank.ToString("D8", CultureInfo.InvariantCulture);

    // The posterior mean; where no difference is shown, everybody has the same rate.
    private static double Score(Group group, FleetRate fleet) =>
        fleet.Spread is { } spread ? (spread.Shape + group.Failures) / (spread.Rate + group.Years) : 0;

    private static Dictionary<string, int> Excluded(FailureView view, Group[] groups)
    {
        var excluded = new Dictionary<string, int>(view.Excluded);
        if (groups.Count(group => group.Years <= 0) is > 0 and int without)
        {
            excluded.Add(Json.Name(view.Choice.By.ToString()).Replace('_', ' ') + " not watched in the window", without);
        }

        return excluded;
    }

    private static RateRow Row(Group group, Group[] groups, FleetRate fleet, double? p, double? q)
    {
        UnitRate own = fleet.Posterior(group.Failures, group.Years, Level)!;
        RateComparison others = RateRatio.Compare(
            group.Failures, group.Years, (int)fleet.Events - group.Failures, Math.Max(0, fleet.Exposure - group.Years), Level);
        return new RateRow(
            group.Code, group.Name, Figures(group.Failures, group.Years, group.Washes), own.Rate, groups.Length > 1 ? others.Ratio : null,
            own.ChanceAboveFleet ?? 0.5, p, q, q <= FalseDiscoveryRate);
    }

    private static Group[] Units(FailureView view)
    {
        (long from, long to) = (view.FromMs, view.ToMs);
        Dictionary<WatchedUnit, int> counts = view.InWindow.CountBy(failure => failure.Unit, ReferenceEqualityComparer.Instance as IEqualityComparer<WatchedUnit>)
            .ToDictionary(pair => pair.Key, pair => pair.Value, (IEqualityComparer<WatchedUnit>)ReferenceEqualityComparer.Instance);
        return
        [
            .. view.Units.GroupBy(unit => Key(unit, view.Choice.By)).Select(group => new Group(
                group.Key.Code, group.Key.Name, group.Sum(counts.GetValueOrDefault), group.Sum(unit => unit.Years(from, to)),
                group.Sum(unit => unit.WashesIn(from, to)))),
        ];
    }

    private static (string Code, string Name) Key(WatchedUnit unit, RateGroup by)
    {
        Registry.UnitEntry entry = unit.Terms.Unit;
        return by switch
        {
            RateGroup.Site => (entry.Site.Resource.Site, entry.Site.Resource.Name),
            RateGroup.Operator => (entry.Site.Operator.Resource.Operator, entry.Site.Operator.Resource.Name),
            RateGroup.Model => (entry.Model.Resource.Model, entry.Model.Resource.Name),
            _ => (entry.Resource.Unit, entry.Site.Resource.Name),
        };
    }

    /// <summary>Part numbers: the time for which parts of each were fitted while their units were watched.</summary>
    private static Group[] PartNumbers(FailureView view, FailureSource source)
    {
        var counts = new Dictionary<string, (int Failures, double Years, string Name)>(StringComparer.OrdinalIgnoreCase);
        foreach (WatchedUnit unit in view.Units)
        {
            foreach (FleetLife life in source.Wear.ByUnit[unit.Terms.Unit.Id].Where(life =>
                life.PartNumber is not null && FailureView.Names(view.Choice.Position, life.Position)))
            {
                long begin = Math.Max(Math.Max(view.FromMs, unit.FromMs), life.FittedAt?.ToUnixTimeMilliseconds() ?? long.MinValue);
                long ended = life.EndedAt?.ToUnixTimeMilliseconds() ?? long.MaxValue;
                long end = Math.Min(Math.Min(view.ToMs, unit.ToMs), ended);
                (int failures, double years, string name) = counts.GetValueOrDefault(
                    life.PartNumber!, (0, 0, FailureNames.Position(unit.Terms.Unit, life.Position)));
                bool failed = life.Failed && ended >= view.FromMs && ended < view.ToMs && unit.At(ended);
                counts[life.PartNumber!] = (failures + (failed ? 1 : 0), years + (Math.Max(0, end - begin) / MsPerYear), name);
            }
        }

        return [.. counts.Select(pair => new Group(pair.Key, pair.Value.Name, pair.Value.Failures, pair.Value.Years, null))];
    }

    private sealed record Group(string Code, string Name, int Failures, double Years, double? Washes);
}
