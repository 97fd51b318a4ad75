using System.Text.Json;
using Washwear.Api.Http;

namespace Washwear.Api.Registry;

/// <summary>
/// Finds rules of one scope and one grade that hold on the same days: two intervals for one wash, of which nobody could say which one counts.
/// Rules that are stored as they are sent are left alone, so that what was entered before goes on as it is.
/// </summary>
internal static class RuleOverlaps
{
    /// <summary>What is wrong with rules that are put.</summary>
    /// <param name="put">The rules.</param>
    /// <param name="stored">The registry as it is.</param>
    /// <param name="path">Path of a rule by its place; empty: the whole that was sent.</param>
    public static IReadOnlyList<FieldProblem> Find(IReadOnlyList<RuleResource> put, RegistrySnapshot stored, Func<int, string> path)
    {
        var after = stored.RuleList.Select(entry => entry.Resource)
            .Where(rule => !put.Any(one => Same(one.Rule, rule.Rule))).Concat(put)
            .ToLookup(rule => (Target(rule.Scope), rule.Grade));
        var problems = new List<FieldProblem>();
        for (int i = 0; i < put.Count; i++)
        {
            RuleResource rule = put[i];
            if (!IsStored(rule, stored)
                && after[(Target(rule.Scope), rule.Grade)].FirstOrDefault(other => !Same(other.Rule, rule.Rule) && Overlap(rule, other)) is { } rival)
            {
                new RuleBook(path(i), problems).Add("valid_from", "overlap", Detail(rule, rival), Mend(rule, rival));
            }
        }

        return problems;
    }

    private static bool IsStored(RuleResource rule, RegistrySnapshot stored) =>
        stored.Rules.TryGetValue(rule.Rule, out RuleEntry? entry)
        && JsonSerializer.Serialize(entry.Resource, Json.Options) == JsonSerializer.Serialize(rule, Json.Options);

    private static bool Same(string one, string other) => Codes.Key(one) == Codes.Key(other);

    private static string Target(RuleScopeResource scope) =>
        scope.Unit is { } unit ? "unit " + Codes.Key(unit)
        : scope.Model is { } model ? "model " + Codes.Key(model)
        : scope.Site is { } site ? "site " + Codes.Key(site)
        : scope.Operator is { } kitchens ? "operator " + Codes.Key(kitchens)
        : "all units";

    private static bool Overlap(RuleResource one, RuleResource other) =>
        (one.ValidFrom ?? DateOnly.MinValue) <= (other.ValidTo ?? DateOnly.MaxValue)
        && (other.ValidFrom ?? DateOnly.MinValue) <= (one.ValidTo ?? DateOnly.MaxValue);

    private static string Detail(RuleResource rule, RuleResource rival)
    {
        DateOnly? from = Max(rule.ValidFrom, rival.ValidFrom);
        DateOnly? to = rule.ValidTo is { } own && rival.ValidTo is { } its ? (own < its ? own : its) : rule.ValidTo ?? rival.ValidTo;
        string days = (from, to) switch
        {
            (null, null) => "on all days",
            ({ } first, null) => FormattableString.Invariant($"from {first:yyyy-MM-dd} on"),
            (null, { } last) => FormattableString.Invariant($"up to {last:yyyy-MM-dd}"),
            ({ } first, { } last) => FormattableString.Invariant($"from {first:yyyy-MM-dd} to {last:yyyy-MM-dd}"),
        };
        return $"Rule '{rival.Rule}' is for the same units and the same grade {days}, and nobody could say which of the two counts.";
    }

    private static string Mend(RuleResource rule, RuleResource rival) =>
        $"Give one of them a valid_to before the other's valid_from; or, if '{rule.Rule}' is to take the place of '{rival.Rule}', "
        + $"put its content as rule '{rival.Rule}': the days before keep what held then.";

    private static DateOnly? Max(DateOnly? one, DateOnly? other) =>
        one is { } first && other is { } second ? (first > second ? first : second) : one ?? other;
}
