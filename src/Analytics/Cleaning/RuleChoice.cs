using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Which units a rule is for, from the general to the particular.</summary>
public enum RuleScope
{
    /// <summary>All units.</summary>
    All,

    /// <summary>All units of an operator.</summary>
    Operator,

    /// <summary>All units of a site.</summary>
    Site,

    /// <summary>All units of a model.</summary>
    Model,

    /// <summary>One unit.</summary>
    Unit,
}

/// <summary>A rule that applies to a unit, and how particular it is.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Scope">Which units it is for.</param>
public sealed record ScopedRule(CleaningRule Rule, RuleScope Scope);

/// <summary>Days on which a rule was chosen for a unit.</summary>
/// <param name="Chosen">The rule that was chosen, as it was given.</param>
/// <param name="Rule">The same rule with its validity cut to those days.</param>
public sealed record RuleStretch(ScopedRule Chosen, CleaningRule Rule);

/// <summary>
/// Chooses, for each grade and each trading day, the one rule that holds for a unit: of those valid on that day the most particular;
/// between two as particular the one that began later; between two that began together the first by code. Rules of different grades stand
/// beside each other.
/// </summary>
public static class RuleChoice
{
    /// <summary>
    /// The rules that hold for a unit, by grade and then by date, each with its validity cut to the days on which it was chosen. A rule
    /// that another one interrupts comes twice. For one grade the validities never overlap.
    /// </summary>
    /// <param name="applicable">All rules whose scope takes the unit in.</param>
    public static IReadOnlyList<RuleStretch> For(IEnumerable<ScopedRule> applicable) =>
        [.. applicable.GroupBy(rule => rule.Rule.Grade).OrderBy(grade => grade.Key).SelectMany(grade => Stretches([.. grade]))];

    private static IEnumerable<RuleStretch> Stretches(ScopedRule[] rules)
    {
        // The choice can change only where some validity begins or has ended.
        LocalDate?[] begins =
        [
            null,
            .. rules.SelectMany(r => new[] { r.Rule.ValidFrom, r.Rule.ValidTo?.PlusDays(1) }).OfType<LocalDate>().Distinct().Order()
                .Select(date => (LocalDate?)date),
        ];
        for (int i = 0; i < begins.Length;)
        {
            ScopedRule? chosen = ChosenOn(rules, begins[i]);
            int next = i + 1;
            while (next < begins.Length && ReferenceEquals(ChosenOn(rules, begins[next]), chosen))
            {
                next++;
            }

            if (chosen is { Rule: var rule })
            {
                LocalDate? last = next < begins.Length ? begins[next]!.Value.PlusDays(-1) : null;
                yield return new RuleStretch(chosen, new CleaningRule(rule.Code, rule.Grade, rule.Basis, rule.Grace, begins[i], last));
            }

            i = next;
        }
    }

    /// <param name="rules">Rules of one grade.</param>
    /// <param name="day">The trading day; null = before any validity begins.</param>
    private static ScopedRule? ChosenOn(ScopedRule[] rules, LocalDate? day) => rules
        .Where(r => (day ?? LocalDate.MinIsoValue) >= (r.Rule.ValidFrom ?? LocalDate.MinIsoValue) && !(day > r.Rule.ValidTo))
        .OrderByDescending(r => r.Scope)
        .ThenByDescending(r => r.Rule.ValidFrom ?? LocalDate.MinIsoValue)
        .ThenBy(r => r.Rule.Code, StringComparer.Ordinal)
        .FirstOrDefault();
}
