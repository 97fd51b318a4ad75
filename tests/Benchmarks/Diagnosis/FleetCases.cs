using Washwear.Analytics.Diagnosis;
using Washwear.Analytics.PartLife;
using Washwear.Api.Demo;
using Washwear.Api.Registry;

namespace Washwear.Benchmarks.Diagnosis;

/// <summary>
/// Faults of an invented fleet as a technician meets them. What is believed comes from other fleets: their visits, and life curves fitted to
/// their parts; the catalogue is the demo's. Ages in washes between entry and exit are taken in proportion to the days.
/// </summary>
internal sealed class FleetCases
{
    private const double MinutesToClearABlockage = 15;
    private static readonly DateTimeOffset AsOf = new(2026, 3, 4, 13, 0, 0, TimeSpan.Zero);

    private readonly Dictionary<(string Model, string Fault), List<VisitEvidence>> _visits = [];
    private readonly Dictionary<string, (WearClock Clock, Weibull Curve, double Mean)> _lives = [];

    /// <summary>Learns from other fleets.</summary>
    public FleetCases(IEnumerable<int> seeds)
    {
        SimulatedFleet[] fleets = [.. seeds.Select(Fleet)];
        (SimulatedFleet Fleet, UnitTruth Unit)[] units = [.. fleets.SelectMany(fleet => fleet.Truth().Select(unit => (fleet, unit)))];
        foreach ((SimulatedFleet fleet, UnitTruth unit) in units)
        {
            foreach (LockoutTruth lockout in unit.Lockouts.Where(lockout => lockout.ClearedAt is not null))
            {
                var key = (Model(fleet, unit).Model, lockout.Fault);
                _visits.TryAdd(key, []);
                _visits[key].Add(new VisitEvidence(true, [new CauseFinding(lockout.Position, lockout.Mode)]));
            }
        }

        foreach (IGrouping<string, PartLifeTruth> position in units.SelectMany(unit => unit.Unit.Lives).GroupBy(life => life.Position))
        {
            Learn(position.Key, [.. position]);
        }
    }

    public int Visits => _visits.Values.Sum(visits => visits.Count);

    /// <summary>All lockouts of a fleet whose cause the catalogue names.</summary>
    public IEnumerable<FaultCase> Of(int seed)
    {
        SimulatedFleet fleet = Fleet(seed);
        foreach (UnitTruth unit in fleet.Truth())
        {
            ModelResource model = Model(fleet, unit);
            foreach (LockoutTruth lockout in unit.Lockouts)
            {
                FaultResource fault = model.Faults.Single(fault => fault.Code == lockout.Fault);
                FaultCauseResource[] causes = [.. fault.Causes!];
                int truth = Array.FindIndex(causes, cause => cause.Position == lockout.Position && cause.FailureMode == lockout.Mode);
                if (truth >= 0)
                {
                    yield return Case(model, fault, causes, truth, unit, lockout);
                }
            }
        }
    }

    private FaultCase Case(
        ModelResource model, FaultResource fault, FaultCauseResource[] causes, int truth, UnitTruth unit, LockoutTruth lockout)
    {
        CauseWeighing weighing = CauseWeights.Weigh(
            [.. causes.Select(cause => new CataloguedCause(cause.Position, cause.FailureMode, cause.Cause, cause.PriorWeight))],
            _visits.GetValueOrDefault((model.Model, fault.Code)) ?? [],
            [.. causes.Select(cause => cause.FailureMode == "blocked" ? null : Part(cause.Position, unit, lockout.RaisedAt))],
            CauseOptions.Usual);
        DiagnosticCheck[] checks =
        [
            .. fault.Checks!.Select(check => new DiagnosticCheck(
                check.Check, check.Minutes,
                [.. Enumerable.Range(0, causes.Length).Where(cause => check.Positions.Contains(causes[cause].Position))],
                check.ChanceOfMissing, check.ChanceOfFalseAlarm)),
        ];
        double?[] repairs = [.. causes.Select(cause => (double?)RepairMinutes(model, cause)), null];
        CauseParts[] needs =
        [
            .. causes.Select((cause, i) => new CauseParts(weighing.Probabilities[i], cause.FailureMode == "blocked" ? [] : [cause.Position])),
            new CauseParts(weighing.Probabilities[^1], null),
        ];
        return new FaultCase(
            fault.Code, truth, new DiagnosisCase(weighing.Probabilities, checks, repairs), needs, weighing.Causes[truth].CatalogueShare,
            weighing.Causes[truth].ShareBeforeAge);
    }

    private static double RepairMinutes(ModelResource model, FaultCauseResource cause) => cause.FailureMode == "blocked"
        ? MinutesToClearABlockage
        : model.Positions.Single(position => position.Position == cause.Position).ReplaceMinutes!.Value;

    private PartHazard? Part(string position, UnitTruth unit, DateTimeOffset at)
    {
        PartLifeTruth? part = unit.Lives.LastOrDefault(life => life.Position == position && life.FittedAt <= at && !(life.RemovedAt < at) && life.ExitDays > life.EntryDays);
        if (part is null || !_lives.TryGetValue(position, out (WearClock Clock, Weibull Curve, double Mean) life))
        {
            return null;
        }

        DateTimeOffset end = part.FailedAt ?? part.RemovedAt ?? AsOf;
        double days = Math.Clamp(part.ExitDays - (end - at).TotalDays, part.EntryDays, part.ExitDays);
        double share = (days - part.EntryDays) / (part.ExitDays - part.EntryDays);
        double washes = part.EntryWashes + (share * (part.ExitWashes - part.EntryWashes));
        return new PartHazard(life.Curve, life.Clock == WearClock.Days ? days : washes, life.Mean);
    }

    private void Learn(string position, PartLifeTruth[] parts)
    {
        WearClock clock = parts[0].Wear.Clock;
        var lives = new LivesBuilder(clock == WearClock.Days ? "days" : "washes");
        foreach (PartLifeTruth part in parts)
        {
            (double entry, double exit) = clock == WearClock.Days ? (part.EntryDays, part.ExitDays) : (part.EntryWashes, part.ExitWashes);
            if (exit > entry)
            {
                _ = part.FailedAt is null ? lives.StillRunningAt(exit, entry) : lives.FailedAt(exit, entry);
            }
        }

        Lives built = lives.Build();
        if (WeibullFit.Fit(built) is FittedLife fit && PartHazard.OfFleet(fit.Curve, built) is { } mean)
        {
            _lives[position] = (clock, fit.Curve, mean);
        }
    }

    private static SimulatedFleet Fleet(int seed) => FleetSimulator.Simulate(seed, AsOf, new SimulationOptions(StageTheEnd: false));

    private static ModelResource Model(SimulatedFleet fleet, UnitTruth unit)
    {
        string model = fleet.Registry.Units.Single(resource => resource.Unit == unit.Unit).Model;
        return fleet.Registry.Models.Single(resource => resource.Model == model);
    }
}
