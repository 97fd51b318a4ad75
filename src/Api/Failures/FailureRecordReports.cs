using System.Globalization;
using Washwear.Api.Http;
using Washwear.Api.PartLife;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>Assembles the failures behind the figures.</summary>
/// <param name="lost">Tells what failures cost.</param>
internal sealed class FailureRecordReports(LostTimes lost)
{
    /// <summary>The failures of the window, newest first.</summary>
    /// <param name="view">The failures.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<FailureRecordsReport> AssembleAsync(FailureView view, PageRequest page, CancellationToken cancellationToken)
    {
        if (page.SortBy is not null)
        {
            IReadOnlyDictionary<Failure, LostTime> all = await lost.OfAsync(view, [.. view.InWindow], cancellationToken);
            PageOf<FailureRow> sorted =
                Sorting.Take(view.InWindow.OrderBy(Key, StringComparer.Ordinal).Select(failure => Row(failure, all.GetValueOrDefault(failure))), FailureColumns.Sorted, page);
            return new FailureRecordsReport(view.Choice, view.AsOf, sorted.Items, sorted.Next);
        }

        List<Failure> newest = [.. view.InWindow.OrderBy(Key, StringComparer.Ordinal)];
        PageOf<Failure> shown = Paging.TakeSorted(newest, Key, page);
        IReadOnlyDictionary<Failure, LostTime> costs = await lost.OfAsync(view, shown.Items, cancellationToken);
        return new FailureRecordsReport(
            view.Choice, view.AsOf, [.. shown.Items.Select(failure => Row(failure, costs.GetValueOrDefault(failure)))], shown.Next);
    }

    private static string Key(Failure failure) =>
        (long.MaxValue - failure.AtMs).ToString("D19", CultureInfo.InvariantCulture) + failure.Unit.Terms.CodeKey + "\u001f" + failure.What;

    private static FailureRow Row(Failure failure, LostTime cost)
    {
        Registry.UnitEntry unit = failure.Unit.Terms.Unit;
        FleetLife? life = failure.Life;
        bool isPart = failure.Kind == FailureKind.Parts;
        return new FailureRow(
            unit.Resource.Unit,
            unit.Site.Resource.Site,
            unit.Site.Resource.Name,
            unit.Site.Resource.TimeZone,
            DateTimeOffset.FromUnixTimeMilliseconds(failure.AtMs),
            failure.UntilMs is { } until ? DateTimeOffset.FromUnixTimeMilliseconds(until) : null,
            isPart ? null : failure.What,
            isPart ? failure.What : null,
            failure.Name,
            failure.Faults,
            life?.FailureMode,
            life?.PartNumber,
            life?.Batch,
            life is not null && life.Ages.TryGetValue(LifeClock.Days, out LifeAges ages) ? ages.End : null,
            cost.LockedOutHours,
            cost.UnwashedDays);
    }
}
