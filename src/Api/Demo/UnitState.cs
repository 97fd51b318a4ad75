namespace Washwear.Api.Demo;

/// <summary>What one unit is at a moment of its life, and what is going to happen to it.</summary>
internal sealed class UnitState
{
    private readonly PriorityQueue<(DateTimeOffset At, Action<DateTimeOffset> What), (DateTimeOffset, long)> _agenda = new();
    private long _order;

    internal UnitState(int seed, UnitPlan plan, SimulationWindow window)
    {
        Plan = plan;
        Window = window;
        Random = Chance.For(seed, Chance.Stream.Life, plan.Index);
        Looking = Chance.For(seed, Chance.Stream.Findings, plan.Index);
        Gateway = new Gateway(Chance.For(seed, Chance.Stream.Delivery, plan.Index), plan.Site.Silences, window);
        Reports = new Reports(plan, Gateway, window);
        Parts = new Parts(plan, Random, Reports, window);
    }

    internal UnitPlan Plan { get; }

    internal SimulationWindow Window { get; }

    internal Random Random { get; }

    /// <summary>What technicians see, think and write down draws from a stream of its own.</summary>
    internal Random Looking { get; }

    internal Gateway Gateway { get; }

    internal Reports Reports { get; }

    internal Parts Parts { get; }

    internal Lockout? Lockout { get; set; }

    /// <summary>The true cause that the last visit missed; the next one for it finds it.</summary>
    internal FailureWay? Missed { get; set; }

    /// <summary>A blockage that was not cleared since something else was taken for the cause.</summary>
    internal FailureWay? StillBlocked { get; set; }

    /// <summary>The last wash that was run, whatever became of it.</summary>
    internal WashRun? LastRun { get; set; }

    /// <summary>Until then a wash runs, or a technician is at the unit.</summary>
    internal DateTimeOffset BusyUntil { get; set; }

    internal DateTimeOffset LastTryAt { get; set; }

    internal DateTimeOffset LastDeepWashAt { get; set; }

    internal DateTimeOffset LastDescaleAt { get; set; }

    internal int WashesTotal { get; set; }

    internal int WashesRunInRecords { get; set; }

    internal double OperatingHours { get; set; }

    internal List<LockoutTruth> Lockouts { get; } = [];

    internal List<VisitTruth> Visits { get; } = [];

    internal DateTimeOffset EndsAt { get; init; }

    internal DateTimeOffset StagedFrom => Window.AsOf.AddDays(-Plan.StagedDays);

    /// <summary>Whether the unit is led into this end by now; habits are led from the start of a trading day.</summary>
    internal bool IsStaged(StagedEnd end, DateTimeOffset at) =>
        Plan.Staged == end && at >= Plan.Site.Hours.DayStart(Plan.Site.Hours.DateAt(StagedFrom));

    /// <summary>Whether it stands at its site, switched on and meant to be used.</summary>
    internal bool IsInUse(DateTimeOffset at) => at < EndsAt && !Plan.IsOutOfService(at);

    internal void Schedule(DateTimeOffset at, Action<DateTimeOffset> what) => _agenda.Enqueue((at, what), (at, _order++));

    internal void RunUntil(DateTimeOffset end)
    {
        while (_agenda.TryPeek(out var next, out _) && next.At < end)
        {
            _agenda.Dequeue();
            next.What(next.At);
        }
    }
}
