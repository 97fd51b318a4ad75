using System.Globalization;
using Washwear.Api.Http;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Alerts;

/// <summary>Assembles the list of alerts and the digest.</summary>
/// <param name="queries">Reads alerts.</param>
public sealed class AlertReports(AlertQueries queries)
{
    private const int DigestHours = 24;
    private const int MostChanges = 100;
    private const int MostLongest = 10;

    /// <summary>A page of alerts, newest first.</summary>
    /// <param name="state">Only those in this state; null: all.</param>
    /// <param name="after">Only those with a lower number; null: from the newest.</param>
    /// <param name="limit">Most rows.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<AlertsReport> AssembleAsync(
        AlertState? state, long? after, int limit, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<Alert> rows = await queries.PageAsync(state, after, limit + 1, cancellationToken);
        AlertCounts counts = await queries.CountsAsync(asOf, asOf, cancellationToken);
        PageOf<Alert> page = Paging.Trim(rows, row => [row.Id.ToString(CultureInfo.InvariantCulture)], new PageRequest(limit, null));
        return new AlertsReport(
            BasisOf(asOf, null, counts),
            AlertWords.Finding(counts.Open, counts.Seen),
            new Dictionary<AlertState, int>
            {
                [AlertState.Open] = counts.Open,
                [AlertState.Seen] = counts.Seen,
                [AlertState.Closed] = counts.Closed,
            },
            page.Items,
            page.Next);
    }

    /// <summary>What changed in the last 24 hours.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<DigestReport> AssembleDigestAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        DateTimeOffset from = asOf.AddHours(-DigestHours);
        AlertCounts counts = await queries.CountsAsync(from, asOf, cancellationToken);
        AlertChanges changes = await queries.ChangesAsync(from, asOf, MostChanges, MostLongest, cancellationToken);
        int open = counts.Open + counts.Seen;
        return new DigestReport(
            BasisOf(asOf, from, counts),
            AlertWords.Day(counts.OpenedBetween, counts.ClosedBetween, open),
            counts.OpenedBetween,
            counts.ClosedBetween,
            open,
            changes.Opened,
            changes.Closed,
            changes.OpenLongest);
    }

    private static Basis BasisOf(DateTimeOffset asOf, DateTimeOffset? from, AlertCounts counts) => new(
        asOf, from, from is null ? null : asOf, AlertWords.Method, null, counts.Open + counts.Seen + counts.Closed, null, new Dictionary<string, int>(), []);
}
