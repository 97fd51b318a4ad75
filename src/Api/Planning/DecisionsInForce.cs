using System.Globalization;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>What was decided about planned jobs, and what of it holds for the parts fitted now. Immutable.</summary>
internal sealed class DecisionsInForce
{
    private readonly Dictionary<(int UnitId, string Position), PlanDecisionRow> _inForce = [];

    private DecisionsInForce(long lastId, IReadOnlyList<PlanDecisionRow> rows) => (LastId, Rows) = (lastId, rows);

    /// <summary>Number of the last decision.</summary>
    public long LastId { get; }

    /// <summary>All decisions, newest first.</summary>
    public IReadOnlyList<PlanDecisionRow> Rows { get; }

    /// <summary>What holds for a part; null: nothing was decided.</summary>
    /// <param name="part">The part.</param>
    public PlanDecisionRow? Of(PlanPart part) => _inForce.GetValueOrDefault((part.Unit.Id, Codes.Key(part.Position.Position)));

    /// <summary>Sorts decisions by whether they hold.</summary>
    /// <param name="book">The parts fitted now.</param>
    /// <param name="stored">All decisions, oldest first.</param>
    public static DecisionsInForce Of(PlanBook book, IReadOnlyList<StoredPlanDecision> stored)
    {
        var rows = new List<PlanDecisionRow>(stored.Count);
        var decisions = new DecisionsInForce(stored.Count == 0 ? 0 : stored[^1].Id, rows);
        HashSet<(int, string)> later = [];
        foreach (StoredPlanDecision one in stored.Reverse())
        {
            (int, string) place = (one.UnitId, Codes.Key(one.Position));
            // The part that it was about must still be in; one that was decided about before any part was on record stays in force.
            bool isLast = later.Add(place);
            bool holds = isLast && one.Decision != "revoked" && (one.Ordinal is null || book.At(one.UnitId, one.Position)?.Life.Ordinal == one.Ordinal);
            PlanDecisionRow row = Row(book.Registry.UnitsById[one.UnitId], one, holds);
            rows.Add(row);
            if (holds)
            {
                decisions._inForce[place] = row;
            }
        }

        return decisions;
    }

    private static PlanDecisionRow Row(UnitEntry unit, StoredPlanDecision one, bool holds)
    {
        SiteResource site = unit.Site.Resource;
        return new PlanDecisionRow(
            one.Id, unit.Resource.Unit, site.Site, site.Name, site.Operator, one.Position,
            unit.Model.Positions.GetValueOrDefault(one.Position)?.Name ?? one.Position,
            Enum.Parse<PlanDecisionWord>(one.Decision, ignoreCase: true),
            one.Day is { } day ? DateOnly.ParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture) : null,
            one.Reason, one.ByName, one.EnteredBy, one.At, holds, string.Empty);
    }

    /// <summary>A decision with its sentence, which each reader has in his own way.</summary>
    /// <param name="row">The decision.</param>
    public static PlanDecisionRow Worded(PlanDecisionRow row) => row with { Sentence = DecisionSentences.Of(row) };
}
