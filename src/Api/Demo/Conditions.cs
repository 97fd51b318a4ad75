using MathNet.Numerics.Distributions;
using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>How parts that are left in look, by their true wear, and what is done about those that look poor.</summary>
internal static class Conditions
{
    /// <summary>
    /// Share of the parts found poor that are swapped as a precaution there and then, and at each planned visit after that. It is small: such
    /// a swap foresees a failure, so many of them would hide the true life from whoever counts failures.
    /// </summary>
    internal const double PoorSwapShare = 0.08;

    // Grades by the share of its life that a part has lived, as far as an eye can tell.
    internal const double WornFrom = 0.6;
    internal const double PoorFrom = 0.85;
    private const double EyeError = 0.07;

    private const double LooksAtNeighboursShare = 0.7;

    /// <summary>The neighbours of a position are graded, if there is time.</summary>
    internal static IReadOnlyList<PartCondition>? Neighbours(UnitState state, string position, DateTimeOffset at)
    {
        if (!state.Looking.Happens(LooksAtNeighboursShare))
        {
            return null;
        }

        string[] neighbours = [.. Positions.CompanionsOf(position).Where(state.Plan.Model.Positions.Contains)];
        List<PartCondition> graded = [];
        foreach (FittedPart part in neighbours.Select(state.Parts.At).Where(part => part.FittedAt < at && part.FailedBy(at) is null).ToList())
        {
            PartCondition condition = Look(state, part, at);
            bool swapped = condition.Grade == ConditionGrade.Poor && state.Looking.Happens(PoorSwapShare);
            graded.Add(swapped ? condition with { Note = "swapped as a precaution" } : condition);
            if (swapped)
            {
                state.Parts.Swap(part.Position, at, RemovalReason.Precaution);
            }
        }

        return graded.Count == 0 ? null : graded;
    }

    /// <summary>At a planned visit the parts that wear by use and age are graded; a few of those found poor before are swapped.</summary>
    internal static IReadOnlyList<PartCondition>? OfPlannedVisit(UnitState state, DateTimeOffset at)
    {
        List<PartCondition> graded = [];
        foreach (FittedPart part in state.Parts.Fitted.Where(part => Positions.IsGradedWhenPlanned(part.Position)).ToList())
        {
            if (part.Looked == ConditionGrade.Poor && part.FailedBy(at) is null && state.Looking.Happens(PoorSwapShare))
            {
                state.Parts.Swap(part.Position, at, RemovalReason.Precaution);
            }
            else if (part.FittedAt.AddDays(1) < at && part.FailedBy(at) is null)
            {
                graded.Add(Look(state, part, at));
            }
        }

        return graded.Count == 0 ? null : graded;
    }

    private static PartCondition Look(UnitState state, FittedPart part, DateTimeOffset at)
    {
        double seen = part.Worn(at) + Normal.Sample(state.Looking, 0, EyeError);
        ConditionGrade grade = seen >= PoorFrom ? ConditionGrade.Poor : seen >= WornFrom ? ConditionGrade.Worn : ConditionGrade.Good;
        part.Looked = grade;
        part.LastSeenGoodAt = at;
        return new PartCondition(part.Position, grade, grade == ConditionGrade.Poor ? "replace soon" : null);
    }
}
