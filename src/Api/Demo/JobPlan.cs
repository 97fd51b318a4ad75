namespace Washwear.Api.Demo;

/// <summary>A lockout that is open.</summary>
/// <param name="Found">What the visits will take for its cause; null: no fault is found.</param>
internal sealed record Lockout(FailureWay Way, DateTimeOffset RaisedAt, FailureWay? Found)
{
    internal string Fault => Way.Fault!;

    internal bool IsCauseFound => Found == Way;

    /// <summary>Whether a visit that left to wait for something has done the checks.</summary>
    internal bool Diagnosed { get; set; }
}

/// <summary>One visit of a job: the technician comes, and either repairs or leaves to wait for something.</summary>
internal sealed record PlannedVisit(
    DateTimeOffset AskedAt, DateTimeOffset ArrivesAt, double MinutesToRepair, VisitEnd End, DateTimeOffset? DecidedAt);

/// <summary>How the repair of a lockout goes: when somebody asks, who is waited for, when it is done.</summary>
internal sealed record JobPlan(DateTimeOffset AskedAt, IReadOnlyList<PlannedVisit> Visits)
{
    private const double ForgottenShare = 0.07;
    private const double ApprovalShare = 0.45;
    private const double ApprovalFromCost = 100;
    private const double PartMissingShare = 0.35;
    internal const double ProvenShare = 0.85;
    private const double MinutesToAskAgain = 30;
    private static readonly DateTimeOffset Never = DateTimeOffset.MaxValue;

    /// <summary>When the visit that nobody has come to by an instant was asked for; null: there is none, or it was not asked for by then.</summary>
    internal DateTimeOffset? OpenAt(DateTimeOffset end)
    {
        DateTimeOffset? asked = Visits.Count == 0 ? AskedAt : Visits.FirstOrDefault(visit => visit.ArrivesAt >= end)?.AskedAt;
        return asked < end ? asked : null;
    }

    internal static JobPlan Draw(UnitState state, Lockout lockout)
    {
        return Staging.LocksOut(state.Plan.Staged) && lockout.RaisedAt >= state.StagedFrom
            ? Staged(state, lockout.RaisedAt)
            : Usual(state, lockout);
    }

    private static JobPlan Usual(UnitState state, Lockout lockout)
    {
        Random random = state.Random;
        DateTimeOffset asked = lockout.RaisedAt.AddHours(random.About(state.Plan.Site.Habits.AsksAfterHours, 0.8));
        asked = random.Happens(ForgottenShare) ? asked.AddDays(random.Between(1, 5)) : asked;
        DateTimeOffset arrives = WorkingHours(state, asked.AddDays(random.About(0.9, 0.6)));
        bool isPart = lockout.Found is { } found && found.Mode != FailureWays.Blocked;
        bool approval = isPart && Positions.PartCost(lockout.Found!.Position) >= ApprovalFromCost && random.Happens(ApprovalShare);
        bool partMissing = isPart && random.Happens(PartMissingShare);
        List<PlannedVisit> visits = [];
        DateTimeOffset askedAgain = asked;
        if (approval || partMissing)
        {
            DateTimeOffset ready = arrives;
            ready = approval ? ready.AddDays(random.About(state.Plan.Site.Habits.DecidesAfterDays, 0.7)) : ready;
            DateTimeOffset? decided = approval ? ready : null;
            ready = partMissing ? ready.AddDays(random.About(4, 0.6)) : ready;
            VisitEnd end = approval ? VisitEnd.WaitingApproval : VisitEnd.WaitingPart;
            visits.Add(new PlannedVisit(asked, arrives, random.Between(25, 70), end, decided ?? ready));
            arrives = WorkingHours(state, ready.AddDays(random.About(0.8, 0.5)));
            askedAgain = ready.AddMinutes(MinutesToAskAgain) < arrives ? ready.AddMinutes(MinutesToAskAgain) : arrives;
        }

        // Whoever mends the wrong thing did not wait for the wash that would have told.
        double minutes = random.Between(25, 80);
        bool proves = random.Happens(ProvenShare) && lockout.IsCauseFound;
        VisitEnd last = lockout.Found is null ? VisitEnd.NoFaultFound : proves ? VisitEnd.Proven : VisitEnd.RepairedNotProven;
        visits.Add(new PlannedVisit(askedAgain, arrives, minutes, last, null));
        return new JobPlan(asked, visits);
    }

    // A staged lockout never ends: what was not waited for by the end lies in the far future.
    private static JobPlan Staged(UnitState state, DateTimeOffset raised)
    {
        DateTimeOffset asked = raised.AddHours(3);
        DateTimeOffset arrives = WorkingHours(state, raised.AddDays(state.Plan.StagedDays * 0.3));
        return state.Plan.Staged switch
        {
            StagedEnd.NoVisitAsked => new JobPlan(Never, []),
            StagedEnd.WaitingTechnician => new JobPlan(asked, []),
            StagedEnd.WaitingApproval => new JobPlan(asked, [new PlannedVisit(asked, arrives, 50, VisitEnd.WaitingApproval, Never)]),
            _ => new JobPlan(asked, [new PlannedVisit(asked, arrives, 50, VisitEnd.WaitingPart, Never)]),
        };
    }

    /// <summary>The next time at which a technician can come: Monday to Saturday, by day.</summary>
    internal static DateTimeOffset WorkingHours(UnitState state, DateTimeOffset at)
    {
        KitchenHours hours = state.Plan.Site.Hours;
        DateOnly date = hours.DateAt(at);
        if (at > hours.At(date, 17))
        {
            date = date.AddDays(1);
        }

        date = date.DayOfWeek == DayOfWeek.Sunday ? date.AddDays(1) : date;
        DateTimeOffset opens = hours.At(date, state.Random.Between(7, 11));
        return at > opens ? at : opens;
    }
}
