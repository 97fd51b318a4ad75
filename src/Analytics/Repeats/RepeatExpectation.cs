namespace Washwear.Analytics.Repeats;

/// <summary>What is expected of each trial: by the life model, else by the other units.</summary>
internal sealed class RepeatExpectation
{
    private readonly IReadOnlyList<RepairDone> _repairs;
    private readonly RepeatModel _model;
    private readonly Dictionary<(RepeatOf, int Key), (int Repeats, double Days)> _fleet;
    private readonly Dictionary<(RepeatOf, int Key, int Unit), (int Repeats, double Days)> _units;

    public RepeatExpectation(IReadOnlyList<RepairDone> repairs, List<RepeatTrial> trials, RepeatModel model)
    {
        _repairs = repairs;
        _model = model;
        _fleet = trials.GroupBy(t => (t.Of, t.Key)).ToDictionary(g => g.Key, Sum);
        _units = RepeatTrial.ByUnitAndKey(trials).ToDictionary(place => (place[0].Of, place[0].Key, place[0].Unit), Sum);
    }

    /// <summary>Chance by the life model; null by fault code and where there is no model.</summary>
    public double? ByModel(RepeatTrial trial)
    {
        double? chance = trial.Of == RepeatOf.Position ? _model.ChanceWithinDays(_repairs[trial.Repairs[0]], trial.PlannedDays) : null;
        return chance is null or (>= 0 and <= 1)
            ? chance
            : throw new ArgumentOutOfRangeException(nameof(trial), chance, "The life model's chance must lie from 0 to 1.");
    }

    /// <summary>Chance by the life model, else by the rate of the other units; null when no other unit was watched.</summary>
    public double? Chance(RepeatTrial trial) => ByModel(trial) ?? ByOthers(trial);

    private double? ByOthers(RepeatTrial trial)
    {
        (int repeats, double days) = _fleet[(trial.Of, trial.Key)];
        (int own, double ownDays) = _units[(trial.Of, trial.Key, trial.Unit)];
        double others = days - ownDays;

        // The half is Jeffreys' prior: with none among the others a repeat is rare, not impossible.
        return others > 1e-6 ? -Numerics.Elementary.ExpMinusOne(-(repeats - own + 0.5) / others * trial.PlannedDays) : null;
    }

    private static (int Repeats, double Days) Sum(IEnumerable<RepeatTrial> trials)
    {
        // In order of size, so that the sum does not depend on the order of the input.
        RepeatTrial[] all = [.. trials];
        return (all.Count(t => t.CameBack), all.Select(t => t.Days).Order().Sum());
    }
}
