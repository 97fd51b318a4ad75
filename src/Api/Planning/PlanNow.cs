using Washwear.Api.Memories;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>The plan as it stands: the book of parts, what was decided, and the visits that follow. Safe for concurrent use.</summary>
internal sealed class PlanNow
{
    private const int MostKept = 200;

    private readonly KeptAnswers _kept = new(MostKept);
    private readonly Lazy<VisitPlan> _visits;
    private readonly Lazy<IReadOnlyList<CompanionPair>> _companions;

    /// <summary>Puts the plan together; visits are planned when they are asked for.</summary>
    /// <param name="book">The parts.</param>
    /// <param name="decisions">What was decided.</param>
    public PlanNow(PlanBook book, DecisionsInForce decisions)
    {
        (Book, Decisions) = (book, decisions);
        _visits = new Lazy<VisitPlan>(() => VisitPlanner.Plan(this));
        _companions = new Lazy<IReadOnlyList<CompanionPair>>(() => CompanionPairs.Of(book));
    }

    /// <summary>The parts.</summary>
    public PlanBook Book { get; }

    /// <summary>What was decided.</summary>
    public DecisionsInForce Decisions { get; }

    /// <summary>The visits.</summary>
    public VisitPlan Visits => _visits.Value;

    /// <summary>Pairs of positions that models call companions, in the order of their keys.</summary>
    public IReadOnlyList<CompanionRow> Companions => Kept<IReadOnlyList<CompanionRow>>(
        nameof(Companions), () => [.. _companions.Value.Select(pair => CompanionPairs.Worded(Book, pair))]);

    /// <summary>What was worked out of this plan before, or is worked out now; kept as long as the plan, the latest few hundred.</summary>
    /// <typeparam name="T">What it is.</typeparam>
    /// <param name="question">What was asked, as a value.</param>
    /// <param name="work">Works it out.</param>
    public T Kept<T>(object question, Func<T> work)
        where T : class => _kept.Of(question, work);

    /// <summary>Works out what another plan was asked for.</summary>
    /// <param name="other">The other; null: nothing was asked.</param>
    public void PrepareLike(PlanNow? other)
    {
        if (other?._visits.IsValueCreated == true)
        {
            _ = Visits;
        }

        if (other?._companions.IsValueCreated == true)
        {
            _ = Companions;
        }
    }

    /// <summary>Whether it is the plan for a book and the decisions up to a number.</summary>
    /// <param name="book">The book.</param>
    /// <param name="lastId">Number of the last decision.</param>
    public bool Is(PlanBook book, long lastId) => ReferenceEquals(Book, book) && Decisions.LastId == lastId;

    /// <summary>Day that the plan has for a part's replacement; null: none.</summary>
    /// <param name="part">The part; null: none is fitted.</param>
    public DateOnly? DayOf(PlanPart? part) => part is null ? null : Visits.DayOf(part);
}
