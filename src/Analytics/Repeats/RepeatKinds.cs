namespace Washwear.Analytics.Repeats;

/// <summary>
/// Tells repeats apart. Order of precedence: what a person did or saw at this very repair comes before what statistics say of many. A fault
/// that comes back soon and is mended elsewhere the next time shows that the first repair changed the wrong thing, whatever else is true:
/// a cause that was left in shows itself at the next washes, and a fault that stays away for weeks was mended and has come anew; a new part
/// that fails early shows something about this repair, the part or its fitting; a bad batch is looked for before the unit, since a unit may
/// look bad only because it got the batch, while a batch goes to many units; what is left is either too much for chance, or not. All that
/// applies is kept beside the first.
/// </summary>
internal sealed class RepeatKinds
{
    private readonly IReadOnlyList<RepairDone> _repairs;
    private readonly IReadOnlyList<FailureSeen> _failures;
    private readonly RepeatModel _model;
    private readonly RepeatOptions _options;
    private readonly RepeatExpectation _expectation;
    private readonly Dictionary<(RepeatOf, int Unit, int Key), RepeatPlaceTest> _places;
    private readonly Dictionary<(int Unit, int Position), Excess> _units;
    private readonly Dictionary<(int Batch, int Position), Excess> _batches;

    public RepeatKinds(
        IReadOnlyList<RepairDone> repairs,
        IReadOnlyList<FailureSeen> failures,
        RepeatModel model,
        RepeatOptions options,
        RepeatExpectation expectation,
        List<RepeatPlaceTest> places)
    {
        (_repairs, _failures, _model, _options, _expectation) = (repairs, failures, model, options, expectation);
        _places = places.ToDictionary(p => (p.Of, p.Unit, p.Key));
        _units = model.Units.ToDictionary(e => (e.Group, e.Position));
        _batches = model.Batches.ToDictionary(e => (e.Group, e.Position));
    }

    /// <summary>One repeat a visit and failure, whether it is one by position, by code or by both.</summary>
    public IReadOnlyList<Repeat> Of(List<RepeatTrial> trials) =>
    [
        .. trials.Where(t => t.CameBack)
            .GroupBy(t => (t.Unit, At: _repairs[t.Repairs[0]].AtMs, t.Failure))
            .Select(g => One(g.FirstOrDefault(t => t.Of == RepeatOf.Position), g.FirstOrDefault(t => t.Of == RepeatOf.Code)))
            .OrderBy(r => r.Repair).ThenBy(r => r.Failure),
    ];

    private Repeat One(RepeatTrial? samePosition, RepeatTrial? sameCode)
    {
        RepeatTrial trial = (samePosition ?? sameCode)!;
        int index = trial.Repairs[0];
        RepairDone repair = _repairs[index];
        double early = Math.Min(_options.WindowDays, Math.Max(_options.EarlyDays, _model.EarlyLifeDays(repair) ?? 0));
        Excess? batch = samePosition is not null && repair.Batch is { } b ? _batches.GetValueOrDefault((b, repair.Position)) : null;
        Excess? unit = samePosition is not null ? _units.GetValueOrDefault((repair.Unit, repair.Position)) : null;
        RepeatPlaceTest place = _places[(trial.Of, trial.Unit, trial.Key)];
        List<RepeatKind> kinds =
        [
            .. When(samePosition is null && trial.Days <= _options.EarlyDays && IsElsewhere(sameCode!), RepeatKind.WrongCauseFound),
            .. When(samePosition is not null && trial.Days <= early, RepeatKind.RepairDidNotHold),
            .. When(batch is { Called: true }, RepeatKind.BadBatch),
            .. When(unit?.Shrunken?.ChanceAboveFleet >= _options.SureChance, RepeatKind.UnitEatsParts),
        ];
        RepeatKind kind = kinds.Count > 0 ? kinds[0] : place.Called ? RepeatKind.Unexplained : RepeatKind.AsExpected;
        return new Repeat(
            index, trial.Failure, samePosition is not null, sameCode is not null, trial.Days, kind, [.. kinds.Skip(1)],
            _expectation.Chance(trial), early, batch, unit, place);
    }

    /// <summary>The failure was found at a position that none of the visit's repairs for this fault had changed.</summary>
    private bool IsElsewhere(RepeatTrial trial) => _failures[trial.Failure].FoundPosition is { } found
        && trial.Repairs.All(i => _repairs[i].Position != found);

    private static IEnumerable<RepeatKind> When(bool applies, RepeatKind kind) => applies ? [kind] : [];
}
