using Washwear.Analytics.Diagnosis;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>
/// What to take along: the fewest parts that are all that is needed with the chance wished for, and the parts worth swapping while the
/// unit is open anyway: companions past the age from which swapping them along is cheaper (where no such age can be told: likely to fail
/// within half a year), and whatever an earlier visit recommended. For planned work, every part that is likely to fail.
/// </summary>
internal static class BringList
{
    private const double Level = 0.9;

    // About what a visit of its own later would cost against the part: an assumption, printed with the list.
    private const double WorthChance = 0.2;

    /// <summary>Nothing to bring.</summary>
    public static SheetParts Nothing { get; } = new(string.Empty, Level, null, [], [], WorthChance);

    /// <summary>The list.</summary>
    /// <param name="model">The unit's model.</param>
    /// <param name="diagnosed">The diagnosis; null: there is none.</param>
    /// <param name="fitted">What is fitted.</param>
    /// <param name="open">What earlier visits recommended.</param>
    /// <param name="pairs">Past which ages parts of the model are worth swapping along.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    public static SheetParts Of(
        ModelEntry model, Diagnosed? diagnosed, IReadOnlyList<SheetPart> fitted, IReadOnlyList<OpenRecommendation> open,
        IReadOnlyList<CompanionRow> pairs, string timeZone)
    {
        if (diagnosed is null)
        {
            PartWorthSwapping[] planned = [.. Worth(model, [], fitted, open, pairs, timeZone, everyPart: true)];
            return new SheetParts(VisitSheetSentences.BringForPlanned(planned.Length), Level, null, [], planned, WorthChance);
        }

        CauseParts[] needs = [.. diagnosed.State.Probabilities.Select((probability, i) =>
            new CauseParts(probability, Needed(diagnosed.Case, i)))];
        PartsChoice choice = PartsToBring.Fewest(needs, Level, Prices(model));
        PartToBring[] parts =
        [
            .. choice.Parts.Select(position => new PartToBring(
                    position, NameOf(model, position), PartNumber(model, position, fitted),
                    Math.Min(1, needs.Where(need => need.Parts?.Contains(position) == true).Sum(need => need.Probability))))
                .OrderByDescending(part => part.ChanceNeeded),
        ];
        double cleared = needs.Where(need => need.Parts is { Count: 0 }).Sum(need => need.Probability);
        return new SheetParts(
            DiagnosisSentences.Bring(parts, choice.Covered, Level, cleared), Level, choice.Covered, parts,
            [.. Worth(model, [.. parts.Select(part => part.Position)], fitted, open, pairs, timeZone, everyPart: false)], WorthChance);
    }

    // Parts are told by their position: causes at one position need the same part.
    private static IReadOnlyList<string>? Needed(FaultCase fault, int cause) => cause >= fault.Causes.Count ? null
        : fault.NeedsPart[cause] ? [fault.Model.Positions.GetValueOrDefault(fault.Causes[cause].Position)?.Position ?? fault.Causes[cause].Position]
        : [];

    private static Dictionary<string, double> Prices(ModelEntry model) => model.Resource.Positions
        .Where(position => position.PartCost is not null).ToDictionary(position => position.Position, position => position.PartCost!.Value);

    private static IEnumerable<PartWorthSwapping> Worth(
        ModelEntry model, string[] brought, IReadOnlyList<SheetPart> fitted, IReadOnlyList<OpenRecommendation> open, IReadOnlyList<CompanionRow> pairs,
        string timeZone, bool everyPart)
    {
        foreach (SheetPart part in fitted.Where(part => !brought.Contains(part.Position)))
        {
            string? beside = brought.FirstOrDefault(position => model.Positions.GetValueOrDefault(position)?.Companions?
                .Contains(part.Position, StringComparer.OrdinalIgnoreCase) == true);
            OpenRecommendation? recommended = open.FirstOrDefault(one => one.Position == part.Position);
            double? chance = part.ChanceToFail180Days >= WorthChance ? part.ChanceToFail180Days : null;
            CompanionRow? pair = beside is null ? null : pairs.FirstOrDefault(row => Same(row.Opened, beside) && Same(row.Companion, part.Position));
            bool? past = pair is null ? null : IsPast(pair, part);
            if (recommended is not null || (past ?? (chance is not null && (everyPart || beside is not null))))
            {
                yield return new PartWorthSwapping(
                    part.Position, part.Name, PartNumber(model, part.Position, fitted), beside, part.ChanceToFail180Days,
                    VisitSheetSentences.Worth(
                        recommended, beside is null ? null : NameOf(model, beside), chance, past == true ? pair : null, timeZone));
            }
        }
    }

    // Null: it cannot be told by age, because nothing is known of the pair or of the part's age on its clock.
    private static bool? IsPast(CompanionRow pair, SheetPart part)
    {
        double? age = pair.Clock switch
        {
            "washes" => part.AgeWashes,
            "operating_hours" => part.AgeOperatingHours,
            _ => part.AgeDays,
        };
        return pair.NotPlanned is not null || age is null ? null : pair.SwapPastAge is { } limit && age >= limit;
    }

    private static bool Same(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);

    private static string NameOf(ModelEntry model, string position) => model.Positions.GetValueOrDefault(position)?.Name ?? position;

    private static string? PartNumber(ModelEntry model, string position, IReadOnlyList<SheetPart> fitted) =>
        fitted.FirstOrDefault(part => part.Position == position)?.PartNumber
        ?? (model.Positions.GetValueOrDefault(position)?.PartNumbers is { Count: > 0 } numbers ? numbers[0] : null);
}
