using Washwear.Analytics.Planning;
using Washwear.Api.Http;
using Washwear.Api.Memories;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>Holds kept forecasts against what came.</summary>
/// <param name="queries">Reads them.</param>
/// <param name="registry">The registry.</param>
/// <param name="renewals">Reads them anew for a large fleet.</param>
internal sealed class CalibrationReports(KeptForecastQueries queries, RegistryCache registry, Renewals renewals)
{
    private readonly Answers<(int Limit, string? After), CalibrationReport> _answers = new(
        renewals, "calibration", registry, (asked, asOf, token) => AssembleAnewAsync(
            queries, new PageRequest(asked.Limit, asked.After is { } after ? [after] : null), asOf, token));

    /// <summary>The report.</summary>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public Task<CalibrationReport> AssembleAsync(PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _answers.OfAsync((page.Limit, page.After?[0]), asOf, cancellationToken);

    private static async Task<CalibrationReport> AssembleAnewAsync(
        KeptForecastQueries queries, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<KeptQuarter> kept = await queries.KeptAsync(cancellationToken);
        ILookup<string, KeptPart> parts = (await queries.PartsAsync(cancellationToken)).ToLookup(part => part.Quarter);
        KeptForecastRow[] rows = [.. kept.SelectMany(quarter => Rows(quarter, [.. parts[quarter.Quarter]], asOf))];
        PageOf<(KeptForecastRow Row, string Key)> taken = Paging.Take(
            rows.Select((row, i) => (row, i.ToString("D8", System.Globalization.CultureInfo.InvariantCulture))), one => one.Item2, page);
        KeptQuarter[] over = [.. kept.Where(quarter => Quarter.Parse(quarter.Quarter).End <= asOf)];
        KeptPart[] ended = [.. over.SelectMany(quarter => parts[quarter.Quarter])];
        ForecastCase[] cases = [.. over.SelectMany(quarter => Cases(parts[quarter.Quarter], Quarter.Parse(quarter.Quarter).End))];
        var excluded = new Dictionary<string, int>();
        if (ended.Length > cases.Length)
        {
            excluded[CalibrationSentences.TakenOutWorking] = ended.Length - cases.Length;
        }

        CalibrationReport scored = Scored(cases);
        return scored with
        {
            Basis = new Basis(asOf, null, null, PlanSentences.Method(PlanMethod.Calibration), null, cases.Length, cases.Count(one => one.Happened), excluded, [.. Doubts(over)]),
            Sentence = CalibrationSentences.Finding(
                kept.Count, over.Length, scored.Expected, scored.Observed, scored.PValue),
            Rows = [.. taken.Items.Select(one => one.Row)],
            Next = taken.Next,
        };
    }

    private static CalibrationReport Scored(ForecastCase[] cases)
    {
        ForecastScoring score = ForecastScore.Of(cases);
        return new CalibrationReport(
            null!, string.Empty, cases.Length, score.Expected, score.Happened,
            cases.Length == 0 ? null : Math.Min(1, 2 * Math.Min(score.ChanceOfSoFew, score.ChanceOfSoMany)),
            score.Brier?.Score, score.Brier?.Uncertainty, score.SpiegelhalterZ,
            [.. score.Bands.Select(band => new CalibrationBand(
                band.From, band.To, band.Count, band.MeanSaid, band.Happened / (double)band.Count, band.Share?.Lower, band.Share?.Upper))],
            [], null);
    }

    private static IEnumerable<string> Doubts(KeptQuarter[] over)
    {
        if (over.Any(quarter => quarter.MadeAfterwards))
        {
            yield return PlanSentences.Doubt(PlanDoubt.MadeAfterwards);
        }
    }

    private static IEnumerable<ForecastCase> Cases(IEnumerable<KeptPart> parts, DateTimeOffset end) =>
        parts.Where(part => !part.TakenOutBefore(end)).Select(part => new ForecastCase(part.Chance, part.FailedBefore(end)));

    private static IEnumerable<KeptForecastRow> Rows(KeptQuarter kept, KeptPart[] parts, DateTimeOffset asOf)
    {
        yield return Row(kept, null, parts, asOf);
        foreach (IGrouping<string, KeptPart> number in parts.GroupBy(part => Codes.Key(part.PartNumber ?? string.Empty)).OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            yield return Row(kept, number.First().PartNumber ?? Text.NotKnown, [.. number], asOf);
        }
    }

    private static KeptForecastRow Row(KeptQuarter kept, string? number, KeptPart[] parts, DateTimeOffset asOf)
    {
        DateTimeOffset end = Quarter.Parse(kept.Quarter).End;
        bool isOver = end <= asOf;
        ForecastCase[] cases = [.. Cases(parts, end < asOf ? end : asOf)];
        Demand said = DemandDistribution.PoissonBinomial([.. cases.Select(one => one.Said)]);
        int observed = cases.Count(one => one.Happened);
        int lower = said.Quantile((1 - ForecastReports.Level) / 2);
        int upper = said.Quantile((1 + ForecastReports.Level) / 2);
        return new KeptForecastRow(
            kept.Quarter, number, kept.MadeAt, kept.MadeAfterwards, isOver, parts.Length, parts.Length - cases.Length, said.Mean, lower, upper, observed,
            isOver ? observed >= lower && observed <= upper : null);
    }
}
