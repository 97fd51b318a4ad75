using Washwear.Analytics.Rates;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Failures;

/// <summary>Assembles what most failures come from.</summary>
/// <param name="found">Reads findings.</param>
/// <param name="lost">Tells what failures cost.</param>
internal sealed class ParetoReports(FoundCauses found, LostTimes lost)
{
    private const double Level = 0.95;

    /// <summary>The kind of failure that a grouping counts.</summary>
    /// <param name="by">The grouping.</param>
    public static FailureKind KindOf(ParetoGroup by) => by == ParetoGroup.Code ? FailureKind.Faults : FailureKind.Parts;

    /// <summary>The table.</summary>
    /// <param name="view">Failures of the kind that the grouping counts.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<ParetoReport> AssembleAsync(FailureView view, CancellationToken cancellationToken)
    {
        FailureChoice choice = view.Choice;
        DateTimeOffset earlier = choice.From!.Value - (choice.To!.Value - choice.From.Value);
        Counted[] counted = choice.Pareto == ParetoGroup.Cause
            ? await FindingsAsync(view, earlier, cancellationToken)
            : [.. FailureView.Between(view.Failures, earlier, choice.To.Value).Select(failure => Of(failure, choice.Pareto))];
        Counted[] now = [.. counted.Where(one => one.Failure.AtMs >= view.FromMs)];
        Counted[] before = [.. counted.Where(one => one.Failure.AtMs < view.FromMs)];
        IReadOnlyDictionary<Failure, LostTime> costs =
            await lost.OfAsync(view, [.. now.Select(one => one.Failure)], cancellationToken);
        IReadOnlyList<ParetoRow> rows = Rows(view, earlier, now, before.CountBy(one => one.Key).ToDictionary(), costs);
        return new ParetoReport(
            new Basis(
                view.AsOf, choice.From, choice.To, ParetoSentences.Method(choice.Pareto), null, now.Length, now.Length, view.Excluded, []),
            ParetoSentences.Of(rows, choice),
            choice.Pareto,
            choice.Measure,
            earlier,
            choice.From.Value,
            rows);
    }

    private static List<ParetoRow> Rows(
        FailureView view,
        DateTimeOffset earlier,
        IReadOnlyList<Counted> now,
        IReadOnlyDictionary<Key, int> before,
        IReadOnlyDictionary<Failure, LostTime> costs)
    {
        double years = view.UnitYears;
        double earlierYears = view.Units.Sum(unit => unit.Years(earlier.ToUnixTimeMilliseconds(), view.FromMs));
        Group[] groups =
        [
            .. now.GroupBy(one => one.Key).Select(group => new Group(
                group.Key,
                group.Count(),
                group.Aggregate(default(LostTime), (sum, one) => sum.Plus(costs.GetValueOrDefault(one.Failure))),
                RateRatio.Compare(group.Count(), years, before.GetValueOrDefault(group.Key), earlierYears, Level))),
        ];
        IReadOnlyList<double?> adjusted = FalseDiscovery.Adjust([.. groups.Select(group => group.Change.PValue)]);
        double all = groups.Sum(group => group.Measured(view.Choice.Measure));
        double sum = 0;
        var rows = new List<ParetoRow>();
        foreach ((Group group, double? q) in groups.Zip(adjusted)
            .OrderByDescending(pair => pair.First.Measured(view.Choice.Measure))
            .ThenByDescending(pair => pair.First.Count)
            .ThenBy(pair => pair.First.Key.Name, StringComparer.Ordinal))
        {
            double measured = group.Measured(view.Choice.Measure);
            sum += measured;
            rows.Add(new ParetoRow(
                group.Key.Position, group.Key.Code, group.Key.Name, group.Count, group.Cost.LockedOutHours, group.Cost.UnwashedDays,
                all > 0 ? measured / all : 0, all > 0 ? sum / all : 0, before.GetValueOrDefault(group.Key), group.Change.Ratio, q));
        }

        return rows;
    }

    private static Counted Of(Failure failure, ParetoGroup by) => new(failure, by switch
    {
        ParetoGroup.Code => new Key(null, failure.What, failure.Name),
        ParetoGroup.Mode => new Key(failure.What, null, failure.Name + ": " + (failure.Life!.FailureMode ?? ParetoSentences.NotNamed)),
        _ => new Key(failure.What, null, failure.Name),
    });

    /// <summary>Findings of visits, each as a failure at its position when its visit ended.</summary>
    private async Task<Counted[]> FindingsAsync(FailureView view, DateTimeOffset from, CancellationToken cancellationToken) =>
    [
        .. (await found.OfAsync(view, from.ToUnixTimeMilliseconds(), view.ToMs, cancellationToken))
            .Where(one => FailureView.Names(view.Choice.Position, one.Finding.Position))
            .Select(one =>
            {
                string position = one.Finding.Position;
                string name = FailureNames.Position(one.Unit.Terms.Unit, position);
                return new Counted(
                    new Failure(FailureKind.Parts, one.Unit, one.AtMs, position, name),
                    new Key(position, null, name + ": " + (one.Finding.Cause ?? one.Finding.FailureMode ?? ParetoSentences.NotNamed)));
            }),
    ];

    private readonly record struct Key(string? Position, string? Code, string Name);

    private readonly record struct Counted(Failure Failure, Key Key);

    private sealed record Group(Key Key, int Count, LostTime Cost, RateComparison Change)
    {
        public double Measured(ParetoMeasure measure) => measure switch
        {
            ParetoMeasure.LockedOutHours => Cost.LockedOutHours,
            ParetoMeasure.UnwashedDays => Cost.UnwashedDays,
            _ => Count,
        };
    }
}
