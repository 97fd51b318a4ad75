using Washwear.Analytics.Planning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>A part that the plan may replace, and what binds its day.</summary>
/// <param name="Part">The part.</param>
/// <param name="Advice">When it is best replaced by itself.</param>
/// <param name="DueOn">Day on which it reaches that age; null: none.</param>
/// <param name="Decision">What was decided and holds; null: nothing.</param>
/// <param name="OnHand">Whether the stock point has one for it; null: nobody told what lies there.</param>
/// <param name="NotBefore">First day on which it can be done.</param>
/// <param name="FixedOn">Day that somebody fixed; null: none.</param>
internal sealed record JobDraft(
    PlanPart Part, PlanAdvice Advice, DateOnly? DueOn, PlanDecisionRow? Decision, bool? OnHand, DateOnly NotBefore, DateOnly? FixedOn)
{
    private const double UsualMinutes = 30;
    private const double ApartShareAYear = 0.5;
    private const double DaysAYear = 365.25;

    /// <summary>Minutes to replace it; 30 where the position tells none.</summary>
    public double Minutes => Part.Position.ReplaceMinutes ?? UsualMinutes;

    /// <summary>What is done, for all time: unit, position and which part.</summary>
    public string Key => FormattableString.Invariant($"{Part.Key} {Part.Life.Ordinal}");

    /// <summary>What replacing it some days from now costs more than on its best day, in expectation.</summary>
    /// <param name="days">Days from now, 0 or more.</param>
    public double ExtraCost(double days)
    {
        if (Part.NoChance is not null || Advice is not { Age: { } best, Costs: { } costs })
        {
            return 0;
        }

        double age = Part.Age!.Value + (days * Part.PerDay!.Value);
        WeibullLife life = Part.Model.Life!.Estimate;
        return Part.ForcedAge is null ? AgeReplacement.ExtraCost(life, costs, best, age) : ForcedExtraCost(life, costs, best, age);
    }

    // Somebody wants this age, cheapest or not: a little counts against any other, and past it the failures that waiting risks.
    private double ForcedExtraCost(WeibullLife life, ReplacementCosts costs, double wanted, double age)
    {
        double apart = costs.Planned * ApartShareAYear * Math.Abs(age - wanted) / Part.PerDay!.Value / DaysAYear;
        double risk = age <= wanted ? 0
            : ((costs.Failure - costs.Planned) * (life.CumulativeHazard(age) - life.CumulativeHazard(wanted))) - (Advice.CostRate!.Value * (age - wanted));
        return Math.Max(apart, risk);
    }

    /// <summary>The job as the plan tells it.</summary>
    /// <param name="today">The day at the site.</param>
    public VisitJob Told(DateOnly today) => new(
        Part.Unit.Resource.Unit, Part.Position.Position, Part.Position.Name, Part.PartNumber, OnHand, Minutes, Part.Costs.PartPrice, DueOn,
        NotBefore > today.AddDays(1) ? NotBefore : null, Part.Chance(90), Decision?.Decision, VisitSentences.Why(DueOn, Decision, OnHand, NotBefore, today));

    /// <summary>The jobs of a plan, each with its part from the shelf or on order.</summary>
    /// <param name="plan">The parts and decisions.</param>
    /// <param name="until">Last day of the horizon.</param>
    public static IReadOnlyList<JobDraft> Of(PlanNow plan, DateOnly until)
    {
        PlanBook book = plan.Book;
        var due = new List<(PlanPart Part, PlanAdvice Advice, DateOnly? DueOn, PlanDecisionRow? Decision)>();
        foreach (PlanPart part in book.Parts)
        {
            PlanAdvice advice = part.NotPlanned is null ? book.Advice(part) : PlanAdvice.None;
            PlanDecisionRow? decision = plan.Decisions.Of(part);
            DateOnly? on = book.DayAt(part, advice.Age);
            if (on <= until || decision is { Decision: PlanDecisionWord.Accepted })
            {
                due.Add((part, advice, on, decision));
            }
        }

        var shelf = new Shelves(book.Plan);
        return
        [
            .. due.OrderBy(job => job.DueOn ?? DateOnly.MaxValue).ThenBy(job => job.Part.Key, StringComparer.Ordinal)
                .Select(job => Draft(book, shelf, job.Part, job.Advice, job.DueOn, job.Decision)),
        ];
    }

    private static JobDraft Draft(PlanBook book, Shelves shelf, PlanPart part, PlanAdvice advice, DateOnly? dueOn, PlanDecisionRow? decision)
    {
        DateOnly today = book.Today(part.Unit);
        DateOnly tomorrow = today.AddDays(1);
        bool isRejected = decision is { Decision: PlanDecisionWord.Rejected };
        bool? onHand = isRejected ? null : shelf.Take(part.Unit.Site.Resource.StockPoint, part.PartNumber);
        DateOnly arrives = onHand == true ? tomorrow : Later(tomorrow, today.AddDays(LeadDays(book.Plan, part.PartNumber)));
        DateOnly notBefore = decision is { Decision: PlanDecisionWord.Postponed, Date: { } date } ? Later(arrives, date) : arrives;
        DateOnly? fixedOn = decision is { Decision: PlanDecisionWord.Accepted, Date: { } day } && day >= today ? day : null;
        return new JobDraft(part, advice, dueOn, decision, onHand, notBefore, fixedOn);
    }

    private static int LeadDays(PlanResources plan, string? number) =>
        number is not null && plan.Parts.GetValueOrDefault(number)?.Supplier is { } supplier && plan.Suppliers.TryGetValue(supplier, out SupplierResource? known)
            ? (int)Math.Ceiling(known.LeadTimeDays)
            : 0;

    private static DateOnly Later(DateOnly one, DateOnly other) => one > other ? one : other;
}

/// <summary>What lies at the stock points, taken one by one.</summary>
/// <param name="plan">The stock points.</param>
internal sealed class Shelves(PlanResources plan)
{
    private readonly Dictionary<(string, string), int> _left = plan.StockPointList
        .SelectMany(place => (place.OnHand ?? []).Select(line => (Key: (Codes.Key(place.StockPoint), Codes.Key(line.PartNumber)), line.Quantity)))
        .ToDictionary(line => line.Key, line => line.Quantity);

    /// <summary>Takes one.</summary>
    /// <param name="stockPoint">Code of the stock point; null: the site names none.</param>
    /// <param name="number">The part number; null: not known.</param>
    /// <returns>Whether there was one; null: nobody told what lies there.</returns>
    public bool? Take(string? stockPoint, string? number)
    {
        if (stockPoint is null || number is null || plan.StockPoints.GetValueOrDefault(stockPoint)?.OnHand is null)
        {
            return null;
        }

        (string, string) key = (Codes.Key(stockPoint), Codes.Key(number));
        int left = _left.GetValueOrDefault(key);
        _left[key] = left - 1;
        return left > 0;
    }
}
