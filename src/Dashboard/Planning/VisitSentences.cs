using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on planned visits.</summary>
public static class VisitSentences
{
    /// <summary>Why a job is done when it is.</summary>
    /// <param name="dueOn">Day on which it reaches the cheapest age; null: none.</param>
    /// <param name="decision">What was decided and holds; null: nothing.</param>
    /// <param name="onHand">Whether the stock point has the part; null: not told.</param>
    /// <param name="notBefore">First day on which it can be done.</param>
    /// <param name="today">The day at the site.</param>
    public static string Why(DateOnly? dueOn, PlanDecisionRow? decision, bool? onHand, DateOnly notBefore, DateOnly today)
    {
        string due = dueOn is not { } day ? string.Empty
            : day <= today ? "It is past the age at which replacing is cheapest."
            : $"It reaches the age at which replacing is cheapest about {Text.Date(day)}.";
        string decided = decision switch
        {
            { Decision: PlanDecisionWord.Accepted, Date: { } on } when on >= today => $" {decision.By} accepted it for {Text.Date(on)}.",
            { Decision: PlanDecisionWord.Accepted, Date: { } on } => $" {decision.By} accepted it for {Text.Date(on)}, which has passed without a part change on record.",
            { Decision: PlanDecisionWord.Postponed, Date: { } on } => $" {decision.By} postponed it until {Text.Date(on)}.",
            _ => string.Empty,
        };
        string waits = onHand != true && notBefore > today.AddDays(1) && decision is not { Decision: PlanDecisionWord.Postponed }
            ? $" The part can be there by {Text.Date(notBefore)}."
            : string.Empty;
        return (due + decided + waits).Trim();
    }

    /// <summary>What is done at a visit.</summary>
    /// <param name="jobs">The jobs.</param>
    /// <param name="minutes">Minutes of work.</param>
    public static string Visit(IReadOnlyList<VisitJob> jobs, double minutes)
    {
        ArgumentNullException.ThrowIfNull(jobs);
        IEnumerable<string> units = jobs.GroupBy(job => job.Unit).Select(unit => string.Join(" and ", unit.Select(job => PlanSentences.Lower(job.PositionName))) + " of " + unit.Key);
        return $"Replace {string.Join("; ", units)}: {PlanWords.Work(minutes)} of work.";
    }

    /// <summary>The finding over the plan.</summary>
    /// <param name="visits">How many visits.</param>
    /// <param name="jobs">How many jobs.</param>
    /// <param name="weeks">The horizon, weeks.</param>
    /// <param name="minutes">Minutes of work.</param>
    /// <param name="leftOut">Jobs left out.</param>
    public static string Plan(int visits, int jobs, int weeks, double minutes, int leftOut) => visits == 0
        ? $"Nothing is best replaced within the next {weeks} weeks." + Left(leftOut)
        : $"{Text.Counted(visits, "visit")} in the next {weeks} weeks replace {Text.Counted(jobs, "part")}, {PlanWords.Work(minutes)} of work." + Left(leftOut);

    private static string Left(int leftOut) => leftOut == 0 ? string.Empty : $" {Text.Capital(Text.Counted(leftOut, "job that is due is", "jobs that are due are"))} left out.";
}
