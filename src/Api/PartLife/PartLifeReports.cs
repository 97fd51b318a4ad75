using System.Data.Common;
using Washwear.Analytics.PartLife;
using Washwear.Api.Http;
using Washwear.Api.Memories;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;
using KaplanMeierStep = Washwear.Dashboard.PartLife.KaplanMeierStep;

namespace Washwear.Api.PartLife;

/// <summary>Assembles the reports on part life.</summary>
/// <param name="registry">The registry.</param>
/// <param name="fleet">Reads the lives.</param>
/// <param name="aged">The lives of a large fleet.</param>
/// <param name="queries">Reads counts.</param>
/// <param name="database">The database.</param>
internal sealed class PartLifeReports(RegistryCache registry, FleetLives fleet, AgedLives aged, PartLifeQueries queries, Database database)
{
    /// <summary>How long the parts at one position last.</summary>
    /// <param name="choice">What is asked.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The report; null when no model has the position and no life is on record.</returns>
    public async Task<PartLifeReport?> AssembleAsync(PartLifeChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PositionRecords records = await ReadAsync(choice, asOf, cancellationToken);
        return records.Position is null && records.Lives.Count == 0 ? null : Report(choice, records);
    }

    /// <summary>The failure modes of a position alone.</summary>
    /// <param name="choice">What is asked.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The modes, without rows where failures do not tell two apart; null as for <see cref="AssembleAsync"/>.</returns>
    public async Task<ModeFigures?> AssembleModesAsync(PartLifeChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PartLifeReport? report = await AssembleAsync(choice with { FailureMode = null }, asOf, cancellationToken);
        return report is null ? null : report.Modes ?? new ModeFigures(GroupSentences.NoModes, GroupSentences.NoMethod, [], []);
    }

    /// <summary>The parts behind a position's figures.</summary>
    /// <param name="choice">What is asked.</param>
    /// <param name="kind">Which of them.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="page">The page wanted.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PartLivesReport> AssembleLivesAsync(
        PartLifeChoice choice, LifeKind kind, DateTimeOffset asOf, PageRequest page, CancellationToken cancellationToken)
    {
        PositionRecords records = await ReadAsync(choice, asOf, cancellationToken);
        PartLifeRow[] rows =
        [
            .. InGroup(records.Lives, choice).Select(life => life.AsSeenBy(choice.FailureMode)).Where(life => LifeRows.IsOf(life, kind))
                .Select(LifeRows.Row).OrderBy(LifeRows.Key, StringComparer.Ordinal),
        ];
        PageOf<PartLifeRow> taken = page.SortBy is null ? Paging.Take(rows, LifeRows.Key, page) : Sorting.Take(rows, PartLifeColumns.Sorted, page);
        return new PartLivesReport(
            choice, kind, Name(records, choice), PartLifeSentences.Listed(choice, kind, Name(records, choice), rows.Length), taken.Items, taken.Next);
    }

    /// <summary>The part-life page: one position's figures and the choices a reader has.</summary>
    /// <param name="choice">What is asked; null: the position with most failures.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PartLifePageReport> AssemblePageAsync(PartLifeChoice? choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        PositionChoice[] choices =
        [
            .. (await queries.PositionsAsync(connection, cancellationToken))
                .Select(row => new PositionChoice(row.Position, Position(snapshot, row.Position)?.Name ?? row.Position, row.Lives, row.Failures))
                .OrderByDescending(position => position.Failures).ThenBy(position => position.Position, StringComparer.OrdinalIgnoreCase),
        ];
        PartLifeChoice? asked = choice ?? (choices.Length == 0 ? null : new PartLifeChoice(choices[0].Position));
        PositionRecords? records = asked is null ? null : await ReadAsync(asked, asOf, cancellationToken);
        if (asked is { Group: not null } && !InGroup(records!.Lives, asked).Any())
        {
            // A group left over from another position or grouping in the form: show all groups.
            asked = asked with { Group = null };
        }

        return new PartLifePageReport(
            choices,
            [.. snapshot.ModelList.Select(model => model.Resource.Model)],
            [
                .. (records?.Lives ?? []).Where(life => life.Failed).Select(life => life.FailureMode).OfType<string>()
                    .GroupBy(mode => mode, StringComparer.OrdinalIgnoreCase).OrderByDescending(mode => mode.Count()).Select(mode => mode.Key),
            ],
            records is null ? null : Report(asked!, records),
            asked);
    }

    private static PartLifeReport Report(PartLifeChoice choice, PositionRecords records) => records.Answers is { } answers
        ? answers.Of((choice with { At = [] }, string.Join(' ', choice.At)), () => ReportAnew(choice, records))
        : ReportAnew(choice, records);

    private static PartLifeReport ReportAnew(PartLifeChoice choice, PositionRecords records)
    {
        CheckMode(choice, records.Lives);
        FleetLife[] all = [.. records.Lives.Select(life => life.AsSeenBy(choice.FailureMode))];
        FleetLife[] asked = [.. InGroup(all, choice)];
        ClockFigures? clocks = LifeComparisons.Clocks(asked);
        LifeClock clock = FleetLives.Clock(choice.Clock) ?? (clocks is { Decided: true } ? FleetLives.Clock(clocks.Best)!.Value : LifeClock.Days);
        Lives lives = FleetLives.OnClock(asked, clock);
        Lives? whole = records.IsWholeFleet && choice.Group is null ? null : FleetLives.OnClock(
            [.. records.Fleet.Select(life => life.AsSeenBy(choice.FailureMode))], clock);
        PartLifeReport report = Figures(choice, records, asked, lives, whole, records.AsOf) with
        {
            Clocks = clocks,
            ClockReason = PartLifeSentences.ClockReason(choice.Clock, clocks),
            Groups = choice.By is { } by ? LifeComparisons.Groups(all, clock, by, choice.Level) : null,
            Early =
            [
                .. EarlyGroups.Find(all, clock, "batch", choice.Level),
                .. choice.By is null or "batch" ? [] : EarlyGroups.Find(all, clock, choice.By, choice.Level),
            ],
        };
        return report;
    }

    private static PartLifeReport Figures(
        PartLifeChoice choice, PositionRecords records, FleetLife[] asked, Lives lives, Lives? whole, DateTimeOffset asOf)
    {
        SurvivalCurve curve = KaplanMeier.Estimate(lives, choice.Level);
        LifeResult result = WeibullFit.Fit(lives);
        var fitted = result as FittedLife;
        LifeBounds? bounds = fitted is null ? null : WeibullBounds.Of(fitted, new WeibullBoundsOptions { Level = choice.Level });
        WeibullFigures? weibull = fitted is null ? null : LifeFigures.Weibull(fitted, bounds!);
        NotEnoughFigures? notEnough = result is NotEnough few ? FewFailures.NotEnough(few, lives, choice.Level) : null;
        FixedShapeFigures? fixedShape = FewFailures.FixedShape(choice, lives, fitted is not null, whole);
        PoorSwapFigures? poor = LifeFigures.PoorSwaps(lives, choice.Level);
        FitTestFigures? test = fitted is null ? null : LifeFigures.FitTest(fitted);
        ProbabilityPlot plot = MedianRanks.Plot(lives);
        IReadOnlyList<LeftOutRow> leftOut = LeftOutCounts.Of(
            lives.Excluded.ToDictionary(exclusion => exclusion.Reason, exclusion => exclusion.Count),
            records.Voided,
            choice.Group is null ? records.UnitsWithoutRecord : 0);
        string name = Name(records, choice);
        return new PartLifeReport(
            new Basis(
                asOf, null, null, PartLifeSentences.Method, lives.Clock, lives.Count, lives.Failures, LeftOutCounts.Excluded(leftOut),
                [
                    .. Remarks.Told([.. result.Account.Doubts, .. curve.Account.Doubts.Except(result.Account.Doubts), .. bounds?.Doubts ?? []]),
                    .. poor is null ? Array.Empty<string>() : [poor.Sentence],
                ]),
            records.Position?.Position ?? choice.Position,
            name,
            choice.Model,
            choice.FailureMode,
            PartLifeSentences.Finding(name, lives.Clock, weibull, notEnough, fixedShape),
            Counts(asked, lives),
            [.. curve.Steps.Select(step => new KaplanMeierStep(step.Age, step.AtRisk, step.Failures, step.Survival, step.Lower, step.Upper))],
            weibull,
            notEnough,
            fitted is null ? [] : [.. LifeFigures.Curve(fitted, lives.OldestAge, choice.Level)],
            [.. LifeFigures.Points(plot)],
            test is null ? null : PartLifeSentences.FitQuality(test, LifeComparisons.FalseDiscoveryLevel))
        {
            By = choice.By,
            Group = choice.Group,
            WeibullInformation = LifeFigures.Information(fitted, choice),
            SurvivalAt = LifeFigures.SurvivalAt(fitted, curve, choice, lives.OldestAge),
            FixedShape = fixedShape,
            RankRegression = LifeFigures.RankRegression(plot),
            FitTest = test,
            Modes = choice.FailureMode is null ? LifeModes.Of(lives, choice.Level) : null,
            PoorSwaps = poor,
            LeftOut = leftOut,
        };
    }

    private static LifeCounts Counts(IReadOnlyCollection<FleetLife> asked, Lives lives)
    {
        LifeClock clock = FleetLives.Clock(lives.Clock)!.Value;
        int stillFitted = asked.Count(life => life.StillFitted && life.Doubt is null
            && life.Ages.TryGetValue(clock, out LifeAges ages) && ages.End > ages.Entry);
        return new LifeCounts(
            lives.Count,
            lives.Failures - lives.FailedBetweenLooks,
            lives.FailedBetweenLooks,
            stillFitted,
            lives.Censored - stillFitted,
            lives.EnteredLate,
            lives.OldestAge);
    }

    private static void CheckMode(PartLifeChoice choice, IEnumerable<FleetLife> lives)
    {
        if (choice.FailureMode is not { } asked)
        {
            return;
        }

        string[] known = [.. lives.Where(life => life.Failed).Select(life => life.FailureMode).OfType<string>()
            .Distinct(StringComparer.OrdinalIgnoreCase)];
        if (!known.Contains(asked, StringComparer.OrdinalIgnoreCase))
        {
            throw new UnknownFailureModeException(asked, known);
        }
    }

    private static IEnumerable<FleetLife> InGroup(IEnumerable<FleetLife> lives, PartLifeChoice choice) => choice is { By: { } by, Group: { } group }
        ? lives.Where(life => string.Equals(LifeComparisons.GroupOf(life, by), group, StringComparison.OrdinalIgnoreCase))
        : lives;

    private static string Name(PositionRecords records, PartLifeChoice choice) => records.Position?.Name ?? choice.Position;

    private static PositionResource? Position(RegistrySnapshot snapshot, string code) =>
        snapshot.ModelList.Select(model => model.Positions.GetValueOrDefault(code)).FirstOrDefault(position => position is not null);

    private async Task<PositionRecords> ReadAsync(PartLifeChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (aged.Hold(snapshot))
        {
            Aged known = await aged.CurrentAsync(asOf, cancellationToken);
            return Records(
                snapshot, choice, known.AsOf, [.. known.ByPosition[choice.Position]], [.. known.Voided[choice.Position]]) with
            { Answers = known.Answers };
        }

        IReadOnlyList<FleetLife> all = await fleet.LoadAsync(choice.Position, asOf, cancellationToken, withLooks: true);
        return Records(
            snapshot, choice, asOf, all, [.. (await queries.VoidedChangesAsync(cancellationToken, choice.Position))
                .Select(one => KeyValuePair.Create(one.UnitId, one.Changes))]);
    }

    private static PositionRecords Records(
        RegistrySnapshot snapshot, PartLifeChoice choice, DateTimeOffset asOf, IReadOnlyList<FleetLife> all, IReadOnlyList<KeyValuePair<int, int>> voided)
    {
        bool IsOfModel(UnitEntry unit) =>
            choice.Model is null || string.Equals(unit.Model.Resource.Model, choice.Model, StringComparison.OrdinalIgnoreCase);
        return new PositionRecords(
            asOf,
            Position(snapshot, choice.Position),
            all,
            choice.Model is null ? all : [.. all.Where(life => IsOfModel(life.Unit))],
            voided.Where(pair => IsOfModel(snapshot.UnitsById[pair.Key])).Sum(pair => pair.Value),
            LeftOutCounts.UnitsWithoutRecord(snapshot, choice.Position, choice.Model, all));
    }

    // What is on record of a position: over the whole fleet, and of the model asked for.
    private sealed record PositionRecords(
        DateTimeOffset AsOf, PositionResource? Position, IReadOnlyList<FleetLife> Fleet, IReadOnlyList<FleetLife> Lives, int Voided, int UnitsWithoutRecord)
    {
        /// <summary>What was told of them before; null: nothing is kept.</summary>
        public KeptAnswers? Answers { get; init; }

        public bool IsWholeFleet => ReferenceEquals(Fleet, Lives);
    }
}

/// <summary>A failure mode was asked for that no failure names; the message says which ones there are.</summary>
/// <param name="asked">What was asked for.</param>
/// <param name="known">What there is.</param>
public sealed class UnknownFailureModeException(string asked, IReadOnlyList<string> known)
    : Exception(known.Count == 0
        ? $"No failure here names a mode, so '{asked}' cannot be told apart."
        : $"No failure here names the mode '{asked}'; there are {string.Join(", ", known)}.");
