using System.Globalization;
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
        VisitsVisitTexts texts = PlanVisitsTexts.Now.Visit;
        string? due = dueOn is not { } day ? null
            : day <= today ? texts.PastAge
            : Fill.In(texts.ReachesAge, ("date", Text.Date(day)));
        string? decided = decision switch
        {
            { Decision: PlanDecisionWord.Accepted, Date: { } on } => Decided(on >= today ? texts.Accepted : texts.AcceptedPassed, decision.By, on),
            { Decision: PlanDecisionWord.Postponed, Date: { } on } => Decided(texts.Postponed, decision.By, on),
            _ => null,
        };
        string? waits = onHand != true && notBefore > today.AddDays(1) && decision is not { Decision: PlanDecisionWord.Postponed }
            ? Fill.In(texts.CanBeThere, ("date", Text.Date(notBefore)))
            : null;
        return string.Join(' ', new[] { due, decided, waits }.OfType<string>());
    }

    /// <summary>What is done at a visit.</summary>
    /// <param name="jobs">The jobs.</param>
    /// <param name="minutes">Minutes of work.</param>
    public static string Visit(IReadOnlyList<VisitJob> jobs, double minutes)
    {
        ArgumentNullException.ThrowIfNull(jobs);
        VisitsVisitTexts texts = PlanVisitsTexts.Now.Visit;
        IEnumerable<string> units = jobs.GroupBy(job => job.Unit).Select(unit => Fill.In(
            texts.OfUnit,
            ("positions", unit.Select(job => PlanSentences.Lower(job.PositionName)).Aggregate((first, second) => Fill.In(texts.Both, ("first", first), ("second", second)))),
            ("unit", unit.Key)));
        return Fill.In(texts.Replace, ("parts", string.Join("; ", units)), ("work", PlanWords.Work(minutes)));
    }

    /// <summary>The finding over the plan.</summary>
    /// <param name="visits">How many visits.</param>
    /// <param name="jobs">How many jobs.</param>
    /// <param name="weeks">The horizon, weeks.</param>
    /// <param name="minutes">Minutes of work.</param>
    /// <param name="leftOut">Jobs left out.</param>
    /// <param name="withoutCosts">Parts of which a cost is not told, so that nobody can say when to replace them.</param>
    public static string Plan(int visits, int jobs, int weeks, double minutes, int leftOut, int withoutCosts)
    {
        VisitsFindingTexts texts = PlanVisitsTexts.Now.Finding;
        (string, string) ahead = ("weeks", weeks.ToString(CultureInfo.InvariantCulture));
        string finding = visits == 0 && withoutCosts > 0 ? texts.NoCosts.For(withoutCosts)
            : visits == 0 ? Fill.In(texts.None, ahead)
            : texts.Visits.For(visits, ahead, ("parts", texts.Parts.For(jobs)), ("work", PlanWords.Work(minutes)));
        return leftOut == 0 ? finding : finding + " " + texts.LeftOut.For(leftOut);
    }

    /// <summary>Why a job that is due is left out of the plan.</summary>
    /// <param name="reason">Why.</param>
    public static string LeftOut(LeftOutReason reason) => PlanVisitsTexts.Now.LeftOut.Reasons[reason];

    private static string Decided(string text, string name, DateOnly day) => Fill.In(text, ("name", name), ("date", Text.Date(day)));
}
