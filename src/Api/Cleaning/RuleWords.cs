using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Cleaning;

/// <summary>Words a rule of the registry as it holds for a unit.</summary>
public static class RuleWords
{
    /// <summary>The rule in words, with the water that it goes by.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="rule">One of its rules.</param>
    public static string Of(UnitTerms unit, RuleTerms rule) => IsByHardness(rule)
        ? CleaningSentences.RuleForWater(rule.Rule, unit.Unit.Site.Resource.WaterHardnessMgPerL)
        : CleaningSentences.Rule(rule.Rule);

    /// <summary>The rule in words, whatever the unit.</summary>
    /// <param name="rule">The rule.</param>
    public static string Of(RuleTerms rule)
    {
        if (!IsByHardness(rule))
        {
            return CleaningSentences.Rule(rule.Rule);
        }

        IReadOnlyList<HardnessStepResource> steps = rule.Entry.Resource.EveryWashesByHardness!;
        return CleaningSentences.RuleByHardness(rule.Rule, steps.Min(step => step.Washes), steps.Max(step => step.Washes));
    }

    /// <summary>What to doubt: rules by a hardness that nobody has measured, and rules that no programme can keep.</summary>
    /// <param name="judged">Units and rules.</param>
    /// <returns>Sentences; none where nothing is in doubt.</returns>
    public static IEnumerable<string> Doubts(IReadOnlyCollection<(UnitTerms Unit, RuleTerms Rule)> judged) =>
        [.. UnknownHardness(judged), .. NeverMet(judged)];

    // A wash may name its grade itself, so such a rule is doubted and not refused.
    private static IEnumerable<string> NeverMet(IEnumerable<(UnitTerms Unit, RuleTerms Rule)> judged) =>
        judged.Select(one => (one.Unit.Unit.Model, one.Rule)).DistinctBy(one => (one.Model.Id, one.Rule.Rule.Code))
            .Select(one => NeverMet(one.Model, one.Rule)).OfType<string>();

    private static string? NeverMet(ModelEntry model, RuleTerms rule)
    {
        ProgrammeResource[] enough = [.. model.Resource.Programmes.Where(programme => programme.Grade.Satisfies(rule.Rule.Grade))];
        return enough.Length == 0
            ? CleaningSentences.NoProgramme(rule.Rule.Code, model.Resource.Model)
            : rule.Rule.Basis is EveryHours hours && enough.Min(programme => programme.Minutes) is { } least && least > hours.Interval.TotalMinutes
            ? CleaningSentences.TooLong(rule.Rule.Code, model.Resource.Model, least / 60, hours.Interval.TotalHours)
            : null;
    }

    private static IEnumerable<string> UnknownHardness(IEnumerable<(UnitTerms Unit, RuleTerms Rule)> judged)
    {
        int unknown = judged.Where(one => IsByHardness(one.Rule) && one.Unit.Unit.Site.Resource.WaterHardnessMgPerL is null)
            .Select(one => one.Unit.Unit.Site.Id).Distinct().Count();
        return unknown == 0 ? [] : [CleaningSentences.UnknownHardness(unknown)];
    }

    private static bool IsByHardness(RuleTerms rule) => rule.Entry.Resource.EveryWashesByHardness is not null;
}
