using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Washwear.Api.Http;
using Washwear.Api.Memories;
using Washwear.Api.PartLife;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Failures;

/// <summary>
/// Assembles what is told of failures. What was told is kept until a record, the registry or the hour changes, and of a large fleet as long as
/// <see cref="LagRule"/> allows. Safe for concurrent use.
/// </summary>
internal sealed class FailureReports
{
    // Different questions are remembered up to this many for one state of the records.
    private const int MostRemembered = 16;

    private const int RepeatsOnPage = 25;
    private const int RowsOnPage = 20;

    private readonly RegistryCache _registry;
    private readonly FailureSources _sources;
    private readonly FailureQueries _queries;
    private readonly ParetoReports _pareto;
    private readonly FailureRecordReports _records;
    private readonly Answers<FailureChoice, FailuresPageReport> _pages;
    private readonly Answers<FailureChoice, FailureTrendReport> _trends;
    private readonly Answers<FailureChoice, ParetoReport> _paretos;
    private readonly Answers<(FailureChoice Choice, int Limit), RepeatsReport> _repeats;
    private readonly ConditionalWeakTable<FailureSource, Remembered> _remembered = [];

    // A new fault changes nothing in how parts wore out.
    private readonly ConditionalWeakTable<Wear, WornPlaces> _worn = [];

    /// <summary>Begins with nothing.</summary>
    /// <param name="registry">The registry.</param>
    /// <param name="sources">What failures are read from.</param>
    /// <param name="queries">Reads washes.</param>
    /// <param name="pareto">What most come from.</param>
    /// <param name="records">The failures themselves.</param>
    /// <param name="renewals">Answers anew in the background.</param>
    public FailureReports(
        RegistryCache registry, FailureSources sources, FailureQueries queries, ParetoReports pareto, FailureRecordReports records, Renewals renewals)
    {
        (_registry, _sources, _queries, _pareto, _records) = (registry, sources, queries, pareto, records);
        _pages = new(renewals, "failures page", registry, ReadPageAsync);
        _trends = new(renewals, "failures trend", registry, ReadTrendAsync);
        _paretos = new(renewals, "failures pareto", registry, ReadParetoAsync);
        _repeats = new(
            renewals, "failures repeats", registry,
            (asked, asOf, token) => ReadRepeatsAsync(asked.Choice, new PageRequest(asked.Limit, null), asOf, token));
    }

    /// <summary>Reads a question.</summary>
    /// <param name="query">The query; what is wrong is noted in it.</param>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<FailureChoice> ReadAsync(Query query, DateTimeOffset now, CancellationToken cancellationToken) =>
        FailureQuestions.Read(query, await _registry.CurrentAsync(cancellationToken), now);

    /// <summary>Who fails more often.</summary>
    /// <param name="choice">The choice.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<RatesReport> RatesAsync(FailureChoice choice, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        FailureSource source = await _sources.CurrentAsync(asOf, cancellationToken);
        FailureKind kind = choice.By == RateGroup.PartNumber ? FailureKind.Parts : choice.Of;
        return RateReports.Of(await ViewAsync(source, choice, kind, cancellationToken), source, page);
    }

    /// <summary>Whether failures come more often.</summary>
    /// <inheritdoc cref="RatesAsync"/>
    public Task<FailureTrendReport> TrendAsync(FailureChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _trends.OfAsync(choice, asOf, cancellationToken);

    /// <summary>How failures recur.</summary>
    /// <inheritdoc cref="RatesAsync"/>
    public async Task<RecurrenceReport> RecurrenceAsync(FailureChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        FailureSource source = await _sources.CurrentAsync(asOf, cancellationToken);
        return RecurrenceReports.Of(await ViewAsync(source, choice, choice.Of, cancellationToken), choice.From is not null);
    }

    /// <summary>What came back after a repair.</summary>
    /// <inheritdoc cref="RatesAsync"/>
    public Task<RepeatsReport> RepeatsAsync(FailureChoice choice, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        page == new PageRequest(page.Limit, null)
            ? _repeats.OfAsync((choice, page.Limit), asOf, cancellationToken)
            : ReadRepeatsAsync(choice, page, asOf, cancellationToken);

    /// <summary>What most failures come from.</summary>
    /// <inheritdoc cref="RatesAsync"/>
    public Task<ParetoReport> ParetoAsync(FailureChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _paretos.OfAsync(choice, asOf, cancellationToken);

    /// <summary>The failures behind the figures.</summary>
    /// <inheritdoc cref="RatesAsync"/>
    public async Task<FailureRecordsReport> RecordsAsync(
        FailureChoice choice, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        FailureSource source = await _sources.CurrentAsync(asOf, cancellationToken);
        return await _records.AssembleAsync(await ViewAsync(source, choice, choice.Of, cancellationToken), page, cancellationToken);
    }

    /// <summary>The page: what needs a decision, and what it rests on.</summary>
    /// <inheritdoc cref="RatesAsync"/>
    public Task<FailuresPageReport> PageAsync(FailureChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _pages.OfAsync(choice, asOf, cancellationToken);

    /// <summary>A chart of the page.</summary>
    /// <param name="name">monthly, recurrence, rates or pareto.</param>
    /// <param name="choice">The choice.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>Null where there is no such chart.</returns>
    public async Task<Chart?> ChartAsync(string name, FailureChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken) => name switch
    {
        "monthly" => MonthlyRateChart.Of(await TrendAsync(choice, asOf, cancellationToken)),
        "recurrence" => RecurrenceChart.Of(await RecurrenceAsync(choice, asOf, cancellationToken)),
        "rates" => RatesChart.Of(await RatesAsync(choice, new PageRequest(RowsOnPage, null), asOf, cancellationToken)),
        "pareto" => FailureParetoChart.Of(await ParetoAsync(choice, asOf, cancellationToken)),
        _ => null,
    };

    private async Task<FailureTrendReport> ReadTrendAsync(FailureChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        FailureTrendReports.Of(await ViewAsync(await _sources.CurrentAsync(asOf, cancellationToken), choice, choice.Of, cancellationToken));

    private async Task<ParetoReport> ReadParetoAsync(FailureChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        FailureSource source = await _sources.CurrentAsync(asOf, cancellationToken);
        return await _pareto.AssembleAsync(
            await ViewAsync(source, choice, ParetoReports.KindOf(choice.Pareto), cancellationToken), cancellationToken);
    }

    private async Task<RepeatsReport> ReadRepeatsAsync(
        FailureChoice choice, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        FailureSource source = await _sources.CurrentAsync(asOf, cancellationToken);
        return Repeats(await ViewAsync(source, choice, FailureKind.Parts, cancellationToken), source, page).Report;
    }

    private async Task<FailuresPageReport> ReadPageAsync(FailureChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        FailureSource source = await _sources.CurrentAsync(asOf, cancellationToken);
        Remembered remembered = _remembered.GetOrCreateValue(source);
        (FailureChoice, ReaderPreferences) question = (choice, ReaderPreferences.Current.OfText);
        if (remembered.Pages.TryGetValue(question, out FailuresPageReport? known))
        {
            return known;
        }

        FailuresPageReport page = await AssemblePageAsync(choice, source, cancellationToken);
        Keep(remembered.Pages, question, page);
        return page;
    }

    private async Task<FailuresPageReport> AssemblePageAsync(FailureChoice choice, FailureSource source, CancellationToken cancellationToken)
    {
        // Independent of each other, so side by side where there are cores.
        Task<WornPlaces> worn = Task.Run(() => _worn.GetValue(source.Wear, WornPlaces.Of), cancellationToken);
        Task<FailureView> viewing = Task.Run(() => ViewAsync(source, choice, FailureKind.Faults, cancellationToken), cancellationToken);
        FailureView parts = await ViewAsync(source, choice, FailureKind.Parts, cancellationToken);
        Task<RepeatFindings> repeats = Task.Run(
            async () =>
            {
                await worn;
                return Repeats(parts, source, new PageRequest(RepeatsOnPage, null));
            },
            cancellationToken);
        FailureView faults = await viewing;
        FailureView asked = choice.Of == FailureKind.Parts ? parts : faults;
        Task<FailureTrendReport> trending = Task.Run(() => FailureTrendReports.Of(asked), cancellationToken);
        Task<RecurrenceReport> recurring = Task.Run(() => RecurrenceReports.Of(asked, choice.From is not null), cancellationToken);
        Task<RatesReport> rating = Task.Run(
            () => RateReports.Of(choice.By == RateGroup.PartNumber ? parts : asked, source, new PageRequest(RowsOnPage, null)), cancellationToken);
        ParetoReport table = await _pareto.AssembleAsync(ParetoReports.KindOf(choice.Pareto) == FailureKind.Parts ? parts : faults, cancellationToken);
        ParetoReport byPosition = await _pareto.AssembleAsync(With(parts, ParetoGroup.Position), cancellationToken);
        ParetoReport byCode = await _pareto.AssembleAsync(With(faults, ParetoGroup.Code), cancellationToken);
        FailureTrendReport trend = await trending;
        RecurrenceReport recurrence = await recurring;
        RatesReport rates = await rating;
        RepeatFindings found = await repeats;
        IReadOnlyList<FailureDecision> decisions = FailureDecisions.Of(
            new FailureFindings(asked.Choice, trend, rates, found.Report, found.WrongCauses, byPosition, byCode));
        return new FailuresPageReport(
            asked.Choice,
            FailureDecisions.Sentence(decisions, trend),
            decisions,
            trend,
            recurrence,
            rates,
            found.Report,
            table,
            new FailureOffers(
                [.. source.Registry.OperatorList.Select(one => new Offer(one.Resource.Operator, one.Resource.Name))],
                [.. source.Registry.ModelList.Select(one => new Offer(one.Resource.Model, one.Resource.Name))],
                [.. byPosition.Rows.Select(row => new Offer(row.Position!, row.Name)).OrderBy(offer => offer.Name, StringComparer.OrdinalIgnoreCase)],
                [.. byCode.Rows.Select(row => new Offer(row.Code!, row.Name)).OrderBy(offer => offer.Code, StringComparer.OrdinalIgnoreCase)]));
    }

    private static FailureView With(FailureView view, ParetoGroup by) =>
        view with { Choice = view.Choice with { Pareto = by, Measure = ParetoMeasure.UnwashedDays } };

    private RepeatFindings Repeats(FailureView parts, FailureSource source, PageRequest page)
    {
        WornPlaces worn = _worn.GetValue(source.Wear, WornPlaces.Of);
        lock (worn.Numbers)
        {
            return RepeatReports.Of(parts, source, worn, page);
        }
    }

    private async Task<FailureView> ViewAsync(
        FailureSource source, FailureChoice choice, FailureKind kind, CancellationToken cancellationToken)
    {
        Remembered remembered = _remembered.GetOrCreateValue(source);
        FailureChoice filled = FailureQuestions.Filled(choice, source.AsOf);
        (FailureChoice, FailureKind) key = (filled, kind);
        if (remembered.Views.TryGetValue(key, out FailureView? known))
        {
            return known;
        }

        (int First, int Last) months =
            (WashMonth.Of(filled.From!.Value.ToUnixTimeMilliseconds()), WashMonth.Of(filled.To!.Value.ToUnixTimeMilliseconds()));
        WashCounts? washes = source.Washes;
        if (months != (washes.FirstMonth, washes.LastMonth) && !remembered.Washes.TryGetValue(months, out washes))
        {
            washes = await _queries.WashMonthsAsync(months.First, months.Last, cancellationToken);
            Keep(remembered.Washes, months, washes);
        }

        FailureView view = source.View(filled, kind, washes);
        Keep(remembered.Views, key, view);
        return view;
    }

    private static void Keep<TKey, TValue>(ConcurrentDictionary<TKey, TValue> kept, TKey key, TValue value)
        where TKey : notnull
    {
        if (kept.Count >= MostRemembered)
        {
            kept.Clear();
        }

        kept[key] = value;
    }

    private sealed class Remembered
    {
        public ConcurrentDictionary<(FailureChoice Choice, FailureKind Kind), FailureView> Views { get; } = [];

        public ConcurrentDictionary<(int First, int Last), WashCounts> Washes { get; } = [];

        public ConcurrentDictionary<(FailureChoice Choice, ReaderPreferences Reader), FailuresPageReport> Pages { get; } = [];
    }
}
