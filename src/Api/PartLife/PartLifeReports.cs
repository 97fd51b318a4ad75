using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;
using KaplanMeierStep = Washwear.Dashboard.PartLife.KaplanMeierStep;

namespace Washwear.Api.PartLife;

/// <summary>What a reader of part life asked for.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Model">Only units of this model; null: all.</param>
/// <param name="FailureMode">Only this mode counts as failure, others are censored; null: all modes.</param>
/// <param name="Clock">What ages are counted in.</param>
/// <param name="Level">Confidence level of bounds, above 0 and below 1.</param>
/// <param name="By">What lives are compared by; null: they are not.</param>
public sealed record PartLifeQuestion(string Position, string? Model, string? FailureMode, LifeClock Clock, double Level = 0.95, string? By = null);

/// <summary>Assembles the reports on part life.</summary>
/// <param name="registry">The registry.</param>
/// <param name="fleet">Reads the lives.</param>
public sealed class PartLifeReports(RegistryCache registry, FleetLives fleet)
{
    private const int CurvePoints = 60;
    private const string Method = "Kaplan–Meier; two-parameter Weibull by maximum likelihood, profile-likelihood bounds";

    /// <summary>How long the parts at one position last.</summary>
    /// <param name="question">What is asked.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The report; null when no model has the position and no life is on record.</returns>
    public async Task<PartLifeReport?> AssembleAsync(PartLifeQuestion question, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PositionResource? position = Position(await registry.CurrentAsync(cancellationToken), question.Position);
        IReadOnlyList<FleetLife> lives = await fleet.LoadAsync(question.Position, asOf, cancellationToken);
        return position is null && lives.Count == 0 ? null : Report(question, position, lives, asOf);
    }

    /// <summary>The lives behind a position's figures.</summary>
    /// <param name="position">Code of the position.</param>
    /// <param name="model">Only units of this model; null: all.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<PartLifeRow>> AssembleLivesAsync(
        string position, string? model, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        [.. Of(await fleet.LoadAsync(position, asOf, cancellationToken), model).Select(Row)];

    /// <summary>The part-life page: one position's figures and the choices a reader has.</summary>
    /// <param name="question">What is asked; null: the position with most failures, in days.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PartLifePageReport> AssemblePageAsync(PartLifeQuestion? question, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        IReadOnlyList<FleetLife> all = await fleet.LoadAsync(null, asOf, cancellationToken);
        PositionChoice[] choices =
        [
            .. all.GroupBy(life => life.Position, StringComparer.OrdinalIgnoreCase)
                .Select(group => new PositionChoice(
                    group.Key, Position(snapshot, group.Key)?.Name ?? group.Key, group.Count(), group.Count(life => life.Failed)))
                .OrderByDescending(choice => choice.Failures).ThenBy(choice => choice.Position, StringComparer.OrdinalIgnoreCase),
        ];
        PartLifeQuestion? asked = question ?? (choices.Length == 0 ? null : new PartLifeQuestion(choices[0].Position, null, null, LifeClock.Days));
        FleetLife[] lives = asked is null ? [] : [.. all.Where(life => Same(life.Position, asked.Position))];
        return new PartLifePageReport(
            choices,
            [.. snapshot.ModelList.Select(model => model.Resource.Model)],
            [
                .. lives.Where(life => life.Failed).Select(life => life.FailureMode).OfType<string>()
                    .GroupBy(mode => mode, StringComparer.OrdinalIgnoreCase).OrderByDescending(mode => mode.Count()).Select(mode => mode.Key),
            ],
            asked is null ? null : Report(asked, Position(snapshot, asked.Position), lives, asOf),
            asked is null ? [] : [.. Of(lives, asked.Model).Select(Row)]);
    }

    private static PartLifeReport Report(
        PartLifeQuestion question, PositionResource? position, IReadOnlyList<FleetLife> all, DateTimeOffset asOf)
    {
        FleetLife[] fleetLives = [.. Of(all, question.Model)];
        Lives everyMode = FleetLives.OnClock(fleetLives, question.Clock);
        Lives lives = question.FailureMode is { } mode ? everyMode.ForMode(Mode(everyMode, mode)) : everyMode;
        SurvivalCurve curve = KaplanMeier.Estimate(lives, question.Level);
        LifeResult result = WeibullFit.Fit(lives);
        var fitted = result as FittedLife;
        LifeBounds? bounds = fitted is null ? null : WeibullBounds.Of(fitted, new WeibullBoundsOptions { Level = question.Level });
        WeibullFigures? weibull = fitted is null ? null : Figures(fitted, bounds!);
        NotEnoughFigures? notEnough = result is NotEnough few ? TooLittle(few, lives, question.Level) : null;
        string name = position?.Name ?? question.Position;
        return new PartLifeReport(
            new Basis(
                asOf, null, null, Method, FleetLives.Name(question.Clock), lives.Count, lives.Failures,
                lives.Excluded.ToDictionary(exclusion => exclusion.Reason, exclusion => exclusion.Count),
                [.. result.Account.Doubts, .. curve.Account.Doubts.Except(result.Account.Doubts), .. bounds?.Doubts ?? []]),
            position?.Position ?? question.Position,
            name,
            question.Model,
            question.FailureMode,
            PartLifeSentences.Finding(name, FleetLives.Name(question.Clock), weibull, notEnough),
            Counts(fleetLives, lives),
            [.. curve.Steps.Select(step => new KaplanMeierStep(step.Age, step.AtRisk, step.Failures, step.Survival, step.Lower, step.Upper))],
            weibull,
            notEnough,
            fitted is null ? [] : [.. Curve(fitted, lives.OldestAge, question.Level)],
            [.. PlottingPoints(lives)],
            fitted is null ? null : LifeComparisons.FitQuality(fitted),
            question.FailureMode is null ? LifeComparisons.Clocks(fleetLives) : null,
            question.By is { } by ? LifeComparisons.Groups(fleetLives, question, by) : null);
    }

    private static WeibullFigures Figures(FittedLife fitted, LifeBounds bounds) => new(
        bounds.Shape,
        bounds.Scale,
        bounds.MeanLife,
        bounds.AgesWhenFailed[0].Age,
        bounds.AgesWhenFailed[1].Age,
        fitted.LogLikelihood,
        fitted.Aic,
        PartLifeSentences.Ageing(bounds.Shape));

    // A constant rate is a Weibull of shape 1: its lower bound needs no failure at all.
    private static NotEnoughFigures TooLittle(NotEnough result, Lives lives, double level)
    {
        var constant = FixedShapeFit.Fit(lives, 1, level) as FixedShapeLife;
        return new NotEnoughFigures(
            lives.Failures,
            new WeibullFitOptions().MinimumFailures,
            result.Message,
            constant is null ? 0 : Math.Exp(constant.LogPoweredExposure),
            constant?.MeanLifeLower,
            level);
    }

    private static LifeCounts Counts(IReadOnlyCollection<FleetLife> fleetLives, Lives lives)
    {
        int stillFitted = fleetLives.Count(life => life.StillFitted && life.Doubt is null);
        return new LifeCounts(
            lives.Count,
            lives.Failures - lives.FailedBetweenLooks,
            lives.FailedBetweenLooks,
            Math.Min(stillFitted, lives.Censored),
            Math.Max(0, lives.Censored - stillFitted),
            lives.EnteredLate,
            lives.OldestAge);
    }

    private static IEnumerable<CurvePoint> Curve(FittedLife fitted, double oldest, double level) =>
        Enumerable.Range(1, CurvePoints).Select(i => oldest * i / CurvePoints).Select(age =>
        {
            Estimate survival = WeibullBounds.SurvivalAt(fitted, age, level);
            return new CurvePoint(age, survival.Value, survival.Lower, survival.Upper);
        });

    // A share of 0 or 1 has no place on a probability plot.
    private static IEnumerable<PlottingPoint> PlottingPoints(Lives lives) =>
        MedianRanks.Plot(lives).Points.Where(point => point.FailedShare is > 0 and < 1).Select(point => new PlottingPoint(point.Age, point.FailedShare));

    private static string Mode(Lives lives, string asked) =>
        lives.Modes.FirstOrDefault(mode => Same(mode, asked)) ?? throw new UnknownFailureModeException(asked, lives.Modes);

    private static IEnumerable<FleetLife> Of(IEnumerable<FleetLife> lives, string? model) =>
        lives.Where(life => model is null || Same(life.Unit.Model.Resource.Model, model));

    private static PositionResource? Position(RegistrySnapshot snapshot, string code) =>
        snapshot.ModelList.Select(model => model.Positions.GetValueOrDefault(code)).FirstOrDefault(position => position is not null);

    private static bool Same(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);

    private static PartLifeRow Row(FleetLife life)
    {
        double? Age(LifeClock clock) => life.Ages.TryGetValue(clock, out LifeAges ages) ? ages.End : null;
        return new PartLifeRow(
            life.Unit.Resource.Unit,
            life.Unit.Model.Resource.Model,
            life.Position,
            life.Ordinal,
            life.PartNumber,
            life.Batch,
            life.FittedAt,
            life.EndedAt,
            life.EndedHow,
            life.FailureMode,
            life.Ages.TryGetValue(LifeClock.Days, out LifeAges days) ? days.Entry : 0,
            Age(LifeClock.Days),
            Age(LifeClock.Washes),
            life.Doubt);
    }
}

/// <summary>A failure mode was asked for that no failure names; the message says which ones there are.</summary>
/// <param name="asked">What was asked for.</param>
/// <param name="known">What there is.</param>
public sealed class UnknownFailureModeException(string asked, IReadOnlyList<string> known)
    : Exception(known.Count == 0
        ? $"No failure here names a mode, so '{asked}' cannot be told apart."
        : $"No failure here names the mode '{asked}'; there are {string.Join(", ", known)}.");
