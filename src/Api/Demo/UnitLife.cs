namespace Washwear.Api.Demo;

/// <summary>The life of one unit from its commissioning, day by day; only what follows the beginning of records is reported.</summary>
internal sealed class UnitLife
{
    private readonly UnitState _state;

    internal UnitLife(int seed, UnitPlan plan, SimulationWindow window)
    {
        DateTimeOffset leaves = plan.Decommissioned is null ? DateTimeOffset.MaxValue : plan.Site.Hours.At(plan.Decommissioned.Value, 12);
        _state = new UnitState(seed, plan, window) { EndsAt = leaves < window.AsOf ? leaves : window.AsOf };
    }

    /// <summary>Lives the life and gives what reaches the service, in the order in which it does.</summary>
    internal IEnumerable<Delivery> Run()
    {
        Begin();
        KitchenHours hours = _state.Plan.Site.Hours;
        for (DateOnly date = _state.Plan.Commissioned; hours.DayStart(date) < _state.EndsAt; date = date.AddDays(1))
        {
            TradingDay.Plan(_state, date);
            DateTimeOffset end = hours.DayEnd(date);
            _state.RunUntil(end < _state.EndsAt ? end : _state.EndsAt);
            foreach (Delivery delivery in _state.Gateway.DeliveredBefore(end))
            {
                yield return delivery;
            }
        }

        End();
        foreach (Delivery delivery in _state.Gateway.DeliveredBefore(DateTimeOffset.MaxValue))
        {
            yield return delivery;
        }
    }

    /// <summary>What was true; to be asked after the life was lived.</summary>
    internal UnitTruth Truth() => new(
        _state.Plan.Code, _state.Plan.Site.Code, _state.Plan.Site.Habits, _state.Plan.Staged,
        [.. _state.Parts.Lives.OrderBy(life => life.Position, StringComparer.Ordinal).ThenBy(life => life.FittedAt)],
        [.. _state.Lockouts.Where(lockout => (lockout.ClearedAt ?? _state.Window.AsOf) >= _state.Window.RecordsBegin)],
        _state.Visits, _state.WashesRunInRecords, _state.Reports.WashesLost);

    private void Begin()
    {
        DateTimeOffset commissioned = _state.Plan.Site.Hours.At(_state.Plan.Commissioned, 10);
        _state.LastDescaleAt = commissioned;
        _state.LastDeepWashAt = commissioned;
        _state.Parts.FitAll(commissioned);
        Repairs.ScheduleNext(_state, commissioned);
        if (commissioned < _state.Window.RecordsBegin)
        {
            _state.Schedule(_state.Window.RecordsBegin, _state.Parts.RecordsBegin);
        }

        if (Staging.LocksOut(_state.Plan.Staged))
        {
            _state.Schedule(_state.StagedFrom, at => Washing.Block(_state, at));
        }
    }

    private void End()
    {
        _state.Parts.FinishAll(_state.EndsAt);
        if (_state.Lockout is { } open && open.RaisedAt <= _state.EndsAt)
        {
            _state.Lockouts.Add(new LockoutTruth(open.Fault, open.Way.Position, open.Way.Mode, open.RaisedAt, null));
        }
    }
}
