namespace Washwear.Analytics.Planning;

/// <summary>One part to replace, and what each week costs it. Weeks are numbered from 0, the first of the plan.</summary>
/// <param name="Id">Number by which the result names it.</param>
/// <param name="Site">Number of its site.</param>
/// <param name="Minutes">Minutes of work on site, 0 or more.</param>
/// <param name="EarliestWeek">First week in which it may be done.</param>
/// <param name="LatestWeek">Last such week; null: any later one.</param>
/// <param name="FixedWeek">Week that somebody fixed; null: none. It overrides the first and the last.</param>
/// <param name="ExtraCost">Money lost by each week against the best time, one a week, 0 or more; infinite: not in that week.</param>
/// <param name="NotDoneCost">Money lost if no week of the plan takes it, 0 or more; infinite counts as 1e12.</param>
public sealed record PlanJob(
    int Id, int Site, double Minutes, int EarliestWeek, int? LatestWeek, int? FixedWeek, IReadOnlyList<double> ExtraCost, double NotDoneCost);

/// <summary>A site that visits go to.</summary>
/// <param name="Site">Its number.</param>
/// <param name="Crew">Number of the crew that goes there.</param>
/// <param name="VisitCost">What one visit costs whatever is done on it, 0 or more.</param>
/// <param name="OpenWeeks">Whether each week can be visited, one a week.</param>
public sealed record PlanSite(int Site, int Crew, double VisitCost, IReadOnlyList<bool> OpenWeeks);

/// <summary>People who share their time between sites.</summary>
/// <param name="Crew">Number.</param>
/// <param name="MinutesPerWeek">Minutes of work that each week holds, one a week, 0 or more; infinite: no limit.</param>
public sealed record PlanCrew(int Crew, IReadOnlyList<double> MinutesPerWeek);

/// <summary>Why no week of a plan takes a job.</summary>
public enum NotPlacedReason
{
    /// <summary>Its site cannot be visited in the week that was fixed.</summary>
    FixedWeekClosed,

    /// <summary>Its site cannot be visited in any week that is allowed for it.</summary>
    NoWeekOpen,

    /// <summary>The crew has no minutes left in any week that suits it.</summary>
    CrewFull,

    /// <summary>Leaving it to a time after the plan costs no more than any week of it.</summary>
    CheaperLater,
}

/// <summary>What became of a job.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Week">Week in which it is done; null: none.</param>
/// <param name="WhyNot">Why no week takes it; null where one does.</param>
public sealed record PlacedJob(int Id, int? Week, NotPlacedReason? WhyNot);

/// <summary>A dated plan.</summary>
/// <param name="Jobs">Each job, in the order given.</param>
/// <param name="Cost">Visits, extra costs of the weeks chosen and costs of what is not done.</param>
/// <param name="LowerBound">No plan that keeps the rules costs less.</param>
/// <param name="GapShare">How far the plan may be above the best, as a share of its own cost, 0 to 1; 0: it is the best.</param>
/// <param name="Visits">Number of visits.</param>
public sealed record ScheduleResult(IReadOnlyList<PlacedJob> Jobs, double Cost, double LowerBound, double GapShare, int Visits);

/// <summary>How hard to look for a plan.</summary>
public sealed record VisitScheduleOptions
{
    /// <summary>Rounds in which prices of crowded weeks are adjusted, 1 to 10,000; 60 unless set.</summary>
    public int Rounds { get; init; } = 60;

    /// <summary>Minutes that each visit takes of the crew's besides its jobs, such as the way there, 0 or more, finite; 0 unless set.</summary>
    public double TravelMinutes { get; init; }
}
