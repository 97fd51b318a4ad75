using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>
/// What earlier visits left to be done: a part whose last look graded it worn or poor, and a finding of a visit that left to wait for a
/// part or
/// an approval. Either is done with when the part at its position has been changed since the look began; a look also when a later one found
/// the part good.
/// </summary>
internal static class OpenRecommendations
{
    /// <summary>The recommendations that are open, the worst first.</summary>
    /// <param name="model">The unit's model.</param>
    /// <param name="visits">Its visits.</param>
    /// <param name="seen">Looks outside visits.</param>
    /// <param name="lives">Its part lives.</param>
    /// <param name="timeZone">Time zone of its site.</param>
    public static IReadOnlyList<OpenRecommendation> Of(
        ModelEntry model, IReadOnlyList<VisitToUnit> visits, IReadOnlyList<ConditionSeen> seen, IReadOnlyList<FleetLife> lives,
            string timeZone)
    {
        ILookup<string, DateTimeOffset> changes = lives
            .SelectMany(life => new[] { life.FittedAt, life.EndedAt }.OfType<DateTimeOffset>().Select(at =>
                (Key: Codes.Key(life.Position), At: at)))
            .ToLookup(change => change.Key, change => change.At);
        IEnumerable<Look> looks = visits.SelectMany(Graded).Concat(seen.Select(look =>
            new Look(look.Position, look.Grade, look.At, look.Note)));
        IEnumerable<Look> last = Latest(looks).Where(look => look.Grade != "good");
        IEnumerable<Look> found = Latest(visits.SelectMany(Unrepaired));
        return
        [
            .. found.Concat(last)
                .Where(look => !changes[Codes.Key(look.Position)].Any(change => change >= look.At))
                .DistinctBy(look => Codes.Key(look.Position))
                .OrderBy(look => Rank(look.Grade)).ThenByDescending(look => look.At)
                .Select(look => Recommendation(look, model, timeZone)),
        ];
    }

    private static OpenRecommendation Recommendation(Look look, ModelEntry model, string timeZone)
    {
        PositionResource? position = model.Positions.GetValueOrDefault(look.Position);
        string name = position?.Name ?? look.Position;
        return new OpenRecommendation(
            position?.Position ?? look.Position, name, look.Grade, look.At, look.Note,
                VisitSheetSentences.Recommendation(name, look.Grade, look.At, look.Note, timeZone));
    }

    private static IEnumerable<Look> Latest(IEnumerable<Look> looks) =>
        looks.GroupBy(look => Codes.Key(look.Position)).Select(group => group.MaxBy(look => look.At)!);

    private static IEnumerable<Look> Graded(VisitToUnit visit) => visit.ArrivedAt is not { } at ? [] :
        List<PartCondition>(visit.Conditions).Select(seen => new Look(seen.Position, Json.Name(seen.Grade.ToString()), at, seen.Note));

    private static IEnumerable<Look> Unrepaired(VisitToUnit visit) =>
        visit is { ArrivedAt: { } at, EndedAs: VisitOutcome.WaitingApproval or VisitOutcome.WaitingPart }
            ? List<VisitFinding>(visit.Findings).Select(found => new Look(
                found.Position, "found", at, found.Note ?? (found.FailureMode is { } mode ? Text.CodeInside(mode) : null)))
            : [];

    private static T[] List<T>(string? json) => json is null ? [] : JsonSerializer.Deserialize<T[]>(json, Json.Options) ?? [];

    private static int Rank(string grade) => grade switch { "found" => 0, "poor" => 1, _ => 2 };

    private sealed record Look(string Position, string Grade, DateTimeOffset At, string? Note);
}
