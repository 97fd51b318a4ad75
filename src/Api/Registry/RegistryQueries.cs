using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using Washwear.Api.Http;
using Washwear.Api.Storage;

namespace Washwear.Api.Registry;

/// <summary>Reads the registry from the database.</summary>
public static class RegistryQueries
{
    private const string VersionSql = "SELECT version FROM registry_version";
    private const string OperatorsSql = "SELECT id, body FROM operator";
    private const string SitesSql = "SELECT id, body, operator_id AS ParentId FROM site";
    private const string ModelsSql = "SELECT id, body FROM model";
    private const string UnitsSql = "SELECT id, body, site_id AS ParentId, model_id AS ModelId FROM unit";
    private const string RulesSql = "SELECT id, body FROM \"rule\"";
    private const string SuppliersSql = "SELECT id, body FROM supplier";
    private const string PartsSql = "SELECT id, body FROM part";
    private const string StockPointsSql = "SELECT id, body FROM stock_point";
    private const string PlanTermsSql = "SELECT \"only\" AS id, body FROM plan_terms";

    /// <summary>Reads the version of the registry.</summary>
    /// <param name="connection">An open connection.</param>
    /// <param name="transaction">Its transaction, if one is open.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    public static Task<long> VersionAsync(DbConnection connection, DbTransaction? transaction, CancellationToken cancellationToken) =>
        connection.ExecuteScalarAsync<long>(
            new CommandDefinition(VersionSql, transaction: transaction, cancellationToken: cancellationToken));

    /// <summary>Reads the whole registry; the transaction makes its parts fit each other.</summary>
    /// <param name="connection">An open connection.</param>
    /// <param name="transaction">Its transaction.</param>
    /// <param name="cancellationToken">Stops the statements.</param>
    public static async Task<RegistrySnapshot> LoadAsync(
        DbConnection connection, DbTransaction transaction, CancellationToken cancellationToken)
    {
        Task<IEnumerable<Row>> RowsAsync(string sql) =>
            connection.QueryAsync<Row>(new CommandDefinition(sql, transaction: transaction, cancellationToken: cancellationToken));

        long version = await VersionAsync(connection, transaction, cancellationToken);
        List<OperatorEntry> operators =
            [.. (await RowsAsync(OperatorsSql)).Select(row => new OperatorEntry(row.Id, row.Read<OperatorResource>()))];
        Dictionary<int, OperatorEntry> operatorsById = operators.ToDictionary(entry => entry.Id);
        List<SiteEntry> sites = [.. (await RowsAsync(SitesSql)).Select(row => Site(row, operatorsById))];
        Dictionary<int, SiteEntry> sitesById = sites.ToDictionary(entry => entry.Id);
        List<ModelEntry> models = [.. (await RowsAsync(ModelsSql)).Select(row => ModelEntry.Of(row.Id, row.Read<ModelResource>()))];
        Dictionary<int, ModelEntry> modelsById = models.ToDictionary(entry => entry.Id);
        List<UnitEntry> units =
        [
            .. (await RowsAsync(UnitsSql)).Select(row =>
                new UnitEntry(row.Id, row.Read<UnitResource>(), sitesById[row.ParentId], modelsById[row.ModelId])),
        ];
        List<RuleEntry> rules = [.. (await RowsAsync(RulesSql)).Select(row => new RuleEntry(row.Id, row.Read<RuleResource>()))];
        IReadOnlyList<RuleVersionEntry> versions = await RuleVersionQueries.AllAsync(connection, transaction, cancellationToken);
        return new RegistrySnapshot(
            version,
            InOrder(operators, entry => entry.Resource.Operator),
            InOrder(sites, entry => entry.Resource.Site),
            InOrder(models, entry => entry.Resource.Model),
            InOrder(units, entry => entry.Resource.Unit),
            InOrder(rules, entry => entry.Resource.Rule),
            versions,
            await PlanAsync(RowsAsync));
    }

    /// <summary>Reads the registry as the open write transaction sees it.</summary>
    /// <param name="session">The write transaction.</param>
    /// <param name="cancellationToken">Stops the statements.</param>
    public static Task<RegistrySnapshot> LoadAsync(WriteSession session, CancellationToken cancellationToken) =>
        LoadAsync(session.Connection, session.Transaction, cancellationToken);

    private static async Task<PlanResources> PlanAsync(Func<string, Task<IEnumerable<Row>>> rowsAsync) => new(
        InOrder((await rowsAsync(SuppliersSql)).Select(row => row.Read<SupplierResource>()), one => one.Supplier),
        InOrder((await rowsAsync(PartsSql)).Select(row => row.Read<PartResource>()), one => one.PartNumber),
        InOrder((await rowsAsync(StockPointsSql)).Select(row => row.Read<StockPointResource>()), one => one.StockPoint),
        (await rowsAsync(PlanTermsSql)).SingleOrDefault()?.Read<PlanTermsResource>());

    private static List<T> InOrder<T>(IEnumerable<T> entries, Func<T, string> code) =>
        [.. entries.OrderBy(entry => Codes.Key(code(entry)), StringComparer.Ordinal)];

    private static SiteEntry Site(Row row, Dictionary<int, OperatorEntry> operators)
    {
        SiteResource resource = row.Read<SiteResource>();
        return new SiteEntry(row.Id, resource, operators[row.ParentId], DateTimeZoneProviders.Tzdb[resource.TimeZone]);
    }

    private sealed class Row
    {
        public int Id { get; init; }

        public string Body { get; init; } = string.Empty;

        public int ParentId { get; init; }

        public int ModelId { get; init; }

        public T Read<T>() =>
            JsonSerializer.Deserialize<T>(Body, Json.Options) ?? throw new InvalidOperationException($"Row {Id} of the registry is empty.");
    }
}
