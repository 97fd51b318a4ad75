using Washwear.Analytics.Diagnosis;
using Washwear.Analytics.PartLife;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;

namespace Washwear.Api.VisitSheets;

/// <summary>A fault at a unit in the terms of the diagnosis: its causes weighed, its checks, and what mends each cause.</summary>
internal sealed class FaultCase
{
    // So many failures that name a mode, none of them this one, say that parts do not end by it: it is cleared, as a blockage is.
    private const int NamedFailuresEnough = 10;

    // Where the model does not say how long a part takes to replace.
    private const double UsualRepairMinutes = 30;

    private FaultCase(
        ModelEntry model, FaultResource fault, FaultCauseResource[] causes, IReadOnlyList<VisitEvidence> visits,
            IReadOnlyList<FleetLife> lives,
        FittedParts models)
    {
        (Model, Fault, Causes, Visits) = (model, fault, causes, visits);
        CauseTold = [.. causes.Select(cause => new CataloguedCause(cause.Position, cause.FailureMode, cause.Cause, cause.PriorWeight))];
        NeedsPart = [.. causes.Select(cause => !IsCleared(cause, models))];
        Weighing = CauseWeights.Weigh(
            CauseTold, visits, [.. causes.Select((cause, i) => NeedsPart[i] ? Hazard(cause, lives, models) : null)], CauseOptions.Usual);
        Checks =
        [
            .. (fault.Checks ?? []).Select(check => new DiagnosticCheck(
                check.Check,
                check.Minutes,
                [.. Enumerable.Range(0, causes.Length).Where(i =>
                    check.Positions.Contains(causes[i].Position, StringComparer.OrdinalIgnoreCase))],
                check.ChanceOfMissing,
                check.ChanceOfFalseAlarm)),
        ];
    }

    /// <summary>The unit's model.</summary>
    public ModelEntry Model { get; }

    /// <summary>The fault as the catalogue gives it.</summary>
    public FaultResource Fault { get; }

    /// <summary>Its causes, at least one.</summary>
    public IReadOnlyList<FaultCauseResource> Causes { get; }

    /// <summary>The same as the diagnosis takes them.</summary>
    public IReadOnlyList<CataloguedCause> CauseTold { get; }

    /// <summary>Whether a part mends the cause; false: parts of the fleet never ended by it, so it is cleared.</summary>
    public IReadOnlyList<bool> NeedsPart { get; }

    /// <summary>Closed visits of the fleet for the fault.</summary>
    public IReadOnlyList<VisitEvidence> Visits { get; }

    /// <summary>The causes weighed; 'something else' is the last.</summary>
    public CauseWeighing Weighing { get; }

    /// <summary>The checks, in the catalogue's order.</summary>
    public IReadOnlyList<DiagnosticCheck> Checks { get; }

    /// <summary>Positions whose model does not say how long they take to replace.</summary>
    public IEnumerable<string> WithoutMinutes => Causes.Select(cause => cause.Position).Distinct(StringComparer.OrdinalIgnoreCase)
        .Where(position => Model.Positions.GetValueOrDefault(position)?.ReplaceMinutes is null);

    /// <summary>The case; null: the catalogue names no cause.</summary>
    /// <param name="model">The unit's model.</param>
    /// <param name="fault">The fault as the catalogue gives it.</param>
    /// <param name="visits">Closed visits of the fleet for it.</param>
    /// <param name="lives">The unit's part lives.</param>
    /// <param name="models">The fleet's fits.</param>
    public static FaultCase? Of(
        ModelEntry model, FaultResource fault, IReadOnlyList<VisitEvidence> visits, IReadOnlyList<FleetLife> lives, FittedParts models) =>
        fault.Causes is { Count: > 0 } causes ? new FaultCase(model, fault, [.. causes], visits, lives, models) : null;

    /// <summary>The case as the diagnosis takes it.</summary>
    /// <param name="certainty">Probability at which the cause is taken for found.</param>
    /// <param name="findings">What an earlier visit for the same trouble found.</param>
    public DiagnosisCase For(double certainty, IReadOnlyList<CauseFinding> findings) => new(
        EarlierFinding.After(Weighing.Probabilities, CauseTold, findings, CauseOptions.Usual),
        Checks,
        [.. Causes.Select(cause => (double?)(Model.Positions.GetValueOrDefault(cause.Position)?.ReplaceMinutes ?? UsualRepairMinutes)),
            null],
        new DiagnosisOptions(certainty));

    /// <summary>How many visits found a cause.</summary>
    /// <param name="cause">Its index.</param>
    public int VisitsThatFound(int cause) => Visits.Count(visit => visit.Findings.Any(found => found.Names(CauseTold[cause])));

    private static bool IsCleared(FaultCauseResource cause, FittedParts models) =>
        cause.FailureMode is { } mode && models.At(cause.Position) is { } all
        && all.Lives.Modes.Count > 0 && all.Lives.Failures >= NamedFailuresEnough && models.At(cause.Position, mode) is null;

    private static PartHazard? Hazard(FaultCauseResource cause, IReadOnlyList<FleetLife> lives, FittedParts models)
    {
        FleetLife? fitted = lives.Where(life => life.StillFitted
            && string.Equals(life.Position, cause.Position, StringComparison.OrdinalIgnoreCase))
            .MaxBy(life => life.Ordinal);
        if (fitted is not { Doubt: null } || !fitted.Ages.TryGetValue(LifeClock.Days, out LifeAges ages))
        {
            return null;
        }

        PositionLife? ofMode = cause.FailureMode is { } mode ? models.At(cause.Position, mode) : null;
        return (ofMode?.Fit is FittedLife ? ofMode : models.At(cause.Position)) is { Fit: FittedLife fit } life
            && PartHazard.OfFleet(fit.Curve, life.Lives) is { } mean
            ? new PartHazard(fit.Curve, Math.Max(0, ages.End), mean)
            : null;
    }
}
