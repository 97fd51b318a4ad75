using System.Globalization;
using Washwear.Api.Http;

namespace Washwear.Api.Registry;

/// <summary>Addresses of what rules said before they were changed.</summary>
internal static class RuleVersionEndpoints
{
    public static void Map(IEndpointRouteBuilder read) => read.MapGet("/rules/{rule}/versions", GetAsync)
        .Produces<RuleVersionsReport>()
        .WithSummary("What a rule says and said")
        .WithDescription(
            "A changed rule does not rewrite the past: what it said before goes on judging its days. Versions that were withdrawn by "
            + "'from=always' of PUT, or by an earlier day, are listed with the instant of that.");

    /// <summary>Reads from when on a change holds.</summary>
    /// <returns>What is wrong; null: nothing.</returns>
    public static ProblemResult? ReadChange(HttpContext context, RuleResource rule, out RuleChange? change)
    {
        DateTimeOffset now = context.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow();
        string? from = context.Request.Query["from"];
        change = new RuleChange(now);
        if (string.Equals(from, "always", StringComparison.OrdinalIgnoreCase))
        {
            change = change with { Always = true };
            return null;
        }

        if (from is not null)
        {
            if (!DateOnly.TryParseExact(from, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day))
            {
                return Problems.Invalid("from", "date", $"'{from}' is no date.", "Give a day such as 2026-03-01, or always to replace the past too.");
            }

            change = change with { From = day };
        }

        // A rule that ended before the change would judge nothing: its end is a change of the past.
        return from is null || !(rule.ValidTo < change.FirstDay(rule)) ? null : Problems.Invalid(
            "valid_to", "order", "The rule would end before the change holds.", "Give a later valid_to, an earlier from, or from=always.");
    }

    private static async Task<IResult> GetAsync(string rule, RegistryCache cache, CancellationToken cancellationToken)
    {
        RegistrySnapshot registry = await cache.CurrentAsync(cancellationToken);
        if (!registry.Rules.TryGetValue(rule, out RuleEntry? entry))
        {
            return Problems.NotFound("rule", rule);
        }

        RuleVersionResource[] earlier =
            [.. registry.RuleVersionList.Where(version => version.RuleId == entry.Id).Select(version => version.Resource)];
        DateOnly? last = earlier.Where(version => version.WithdrawnAt is null).Select(version => (DateOnly?)version.Until).Max();
        return TypedResults.Ok(new RuleVersionsReport(entry.Resource.Rule, last?.AddDays(1), entry.Resource, earlier));
    }
}
