using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Storage;

namespace Washwear.Api.Registry;

/// <summary>Puts the plan terms, in one transaction, after checking them against the suppliers.</summary>
/// <param name="database">The database.</param>
public sealed class PlanTermsWriter(Database database)
{
    /// <summary>Puts the terms.</summary>
    /// <param name="terms">The terms.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>What is wrong; empty: they hold now.</returns>
    public Task<IReadOnlyList<FieldProblem>> PutAsync(PlanTermsResource terms, CancellationToken cancellationToken) =>
        database.WriteAsync<IReadOnlyList<FieldProblem>>(
            async session =>
            {
                RegistrySnapshot stored = await RegistryQueries.LoadAsync(session, cancellationToken);
                IReadOnlyList<FieldProblem> problems =
                [
                    .. RegistryRules.Check(terms, new KnownCodes()),
                    .. PlanRules.TooSlow(stored.Plan.SupplierList, terms.HorizonWeeks, _ => "horizon_weeks"),
                ];
                if (problems.Count == 0 && await PutAsync(session, terms, cancellationToken) is not null)
                {
                    await RegistryWriteQueries.GrowVersionAsync(session, cancellationToken);
                }

                return problems;
            },
            cancellationToken);

    /// <summary>Puts the terms in an open transaction.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="terms">The terms, which fit.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>Whether there were none before; null: they were just so.</returns>
    internal static async Task<bool?> PutAsync(WriteSession session, PlanTermsResource terms, CancellationToken cancellationToken)
    {
        string body = JsonSerializer.Serialize(terms, Json.Options);
        string? stored = await RegistryWriteQueries.PlanTermsAsync(session, cancellationToken);
        if (stored == body)
        {
            return null;
        }

        await RegistryWriteQueries.PutPlanTermsAsync(session, body, cancellationToken);
        return stored is null;
    }

    /// <summary>Suppliers, of a document or stored, that take longer than the plan will look ahead.</summary>
    /// <param name="document">The document.</param>
    /// <param name="stored">What is stored.</param>
    internal static IEnumerable<FieldProblem> TooSlow(RegistryDocument document, RegistrySnapshot stored)
    {
        int weeks = (document.PlanTerms ?? stored.Plan.Terms).HorizonWeeks;
        IReadOnlyList<SupplierResource> given = document.Suppliers ?? [];
        HashSet<string> codes = [.. given.Select(one => Codes.Key(one.Supplier))];
        return PlanRules.TooSlow(given, weeks, i => FormattableString.Invariant($"suppliers[{i}].lead_time_days"))
            .Concat(PlanRules.TooSlow([.. stored.Plan.SupplierList.Where(one => !codes.Contains(Codes.Key(one.Supplier)))], weeks, _ => "plan_terms.horizon_weeks"));
    }
}
