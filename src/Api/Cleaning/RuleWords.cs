using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Words a rule of the registry as it holds for a unit.</summary>
public static class RuleWords
{
    /// <summary>The rule in words, with the water that it goes by.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="rule">One of its rules.</param>
    public static string Of(UnitTerms unit, RuleTerms rule) => CleaningSentences.Rule(rule.Rule) + (!IsByHardness(rule) ? string.Empty
        : unit.Unit.Site.Resource.WaterHardnessMgPerL is { } mgPerL ? ", for water of " + Text.Hardness(mgPerL)
        : ", the strictest step because nobody has measured the water's hardness");

    /// <summary>The rule in words, whatever the unit.</summary>
    /// <param name="rule">The rule.</param>
    public static string Of(RuleTerms rule)
    {
        if (!IsByHardness(rule))
        {
            return CleaningSentences.Rule(rule.Rule);
        }

        IReadOnlyList<HardnessStepResource> steps = rule.Entry.Resource.EveryWashesByHardness!;
        return CleaningSentences.Rule(rule.Rule, "after " + Text.Count(steps.Min(step => step.Washes)) + " to "
            + Text.Count(steps.Max(step => step.Washes)) + " other washes, by the water's hardness");
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
        string what = $"Rule {rule.Rule.Code} and model {model.Resource.Model}: ";
        return enough.Length == 0
            ? what + "no programme of the model reaches the grade, so only washes that name their grade themselves can count."
            : rule.Rule.Basis is EveryHours hours && enough.Min(programme => programme.Minutes) is { } least && least > hours.Interval.TotalMinutes
            ? what + $"a wash takes {Text.Duration(least / 60)}, longer than the {Text.Duration(hours.Interval.TotalHours)} within which the next is due."
            : null;
    }

    private static IEnumerable<string> UnknownHardness(IEnumerable<(UnitTerms Unit, RuleTerms Rule)> judged)
    {
        int unknown = judged.Where(one => IsByHardness(one.Rule) && one.Unit.Unit.Site.Resource.WaterHardnessMgPerL is null)
            .Select(one => one.Unit.Unit.Site.Id).Distinct().Count();
        return unknown == 0 ? [] : ["At " + Text.Counted(unknown, "site", "sites") + " nobody has measured the water's hardness: a rule by hardness "
            + "takes its smallest number of washes there."];
    }

    private static bool IsByHardness(RuleTerms rule) => rule.Entry.Resource.EveryWashesByHardness is not null;
}
