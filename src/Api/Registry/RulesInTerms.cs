using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Registry;

/// <summary>All rules of the registry in the terms of the cleaning computation, found by what they are for.</summary>
internal sealed class RulesInTerms
{
    private static readonly IEqualityComparer<(RuleScope Scope, string? Code)> IgnoringCase =
        EqualityComparer<(RuleScope Scope, string? Code)>.Create(
            (one, other) => one.Scope == other.Scope && string.Equals(one.Code, other.Code, StringComparison.OrdinalIgnoreCase),
            target => HashCode.Combine(target.Scope, target.Code is null ? 0 : StringComparer.OrdinalIgnoreCase.GetHashCode(target.Code)));

    private readonly ILookup<(RuleScope Scope, string? Code), Term> _byTarget;

    public RulesInTerms(IEnumerable<RuleEntry> rules) =>
        _byTarget = rules.Select(rule => new Term(rule, TargetOf(rule.Resource.Scope))).ToLookup(term => term.Target, IgnoringCase);

    /// <summary>The rules that a unit is or was under, each with the days on which it is chosen.</summary>
    public IReadOnlyList<RuleTerms> Of(UnitEntry unit)
    {
        Dictionary<ScopedRule, RuleEntry> applicable = new(ReferenceEqualityComparer.Instance);
        foreach (Term term in Targets(unit).SelectMany(target => _byTarget[target]))
        {
            applicable[new ScopedRule(RuleOf(term.Entry.Resource, unit.Site.Resource.WaterHardnessMgPerL), term.Target.Scope)] = term.Entry;
        }

        return [.. RuleChoice.For(applicable.Keys).Select(stretch => new RuleTerms(applicable[stretch.Chosen], stretch.Rule))];
    }

    private static (RuleScope Scope, string? Code)[] Targets(UnitEntry unit) =>
    [
        (RuleScope.All, null),
        (RuleScope.Operator, unit.Site.Operator.Resource.Operator),
        (RuleScope.Site, unit.Site.Resource.Site),
        (RuleScope.Model, unit.Model.Resource.Model),
        (RuleScope.Unit, unit.Resource.Unit),
    ];

    private static (RuleScope Scope, string? Code) TargetOf(RuleScopeResource scope) =>
        scope.Unit is not null ? (RuleScope.Unit, scope.Unit)
        : scope.Model is not null ? (RuleScope.Model, scope.Model)
        : scope.Site is not null ? (RuleScope.Site, scope.Site)
        : scope.Operator is not null ? (RuleScope.Operator, scope.Operator)
        : (RuleScope.All, null);

    private static CleaningRule RuleOf(RuleResource rule, double? hardness) => new(
        rule.Rule,
        rule.Grade,
        BasisOf(rule, hardness),
        Duration.FromHours(rule.GraceHours),
        rule.ValidFrom is { } from ? LocalDate.FromDateOnly(from) : null,
        rule.ValidTo is { } to ? LocalDate.FromDateOnly(to) : null);

    private static DueBasis BasisOf(RuleResource rule, double? hardness) =>
        rule.EveryTradingDays is { } days ? new EveryTradingDays(days)
        : rule.EveryHours is { } hours ? new EveryHours(Duration.FromHours(hours))
        : rule.EveryWashes is { } washes ? new EveryWashes(washes)
        : rule.EveryOperatingHours is { } operating ? new EveryOperatingHours(operating)
        : new EveryWashes(WashesFor(rule.EveryWashesByHardness!, hardness));

    // Too early costs some descaler, too late an oven: where nobody has measured, the smallest number.
    private static int WashesFor(IReadOnlyList<HardnessStepResource> steps, double? hardness) => hardness is { } mgPerL
        ? steps.First(step => step.UpToMgPerL is not { } upTo || mgPerL <= upTo).Washes
        : steps.Min(step => step.Washes);

    private sealed record Term(RuleEntry Entry, (RuleScope Scope, string? Code) Target);
}
