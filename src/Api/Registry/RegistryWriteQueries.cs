using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Registry;

/// <summary>Statements that change the registry.</summary>
internal static class RegistryWriteQueries
{
    private const string OperatorExistsSql = "SELECT CASE WHEN EXISTS (SELECT 1 FROM operator WHERE code_key = @Key) THEN 1 ELSE 0 END";
    private const string SiteExistsSql = "SELECT CASE WHEN EXISTS (SELECT 1 FROM site WHERE code_key = @Key) THEN 1 ELSE 0 END";
    private const string ModelExistsSql = "SELECT CASE WHEN EXISTS (SELECT 1 FROM model WHERE code_key = @Key) THEN 1 ELSE 0 END";
    private const string UnitExistsSql = "SELECT CASE WHEN EXISTS (SELECT 1 FROM unit WHERE code_key = @Key) THEN 1 ELSE 0 END";

    private const string SupplierExistsSql = "SELECT CASE WHEN EXISTS (SELECT 1 FROM supplier WHERE code_key = @Key) THEN 1 ELSE 0 END";
    private const string PlanTermsSql = "SELECT body FROM plan_terms";

    private const string PutPlanTermsSql = """
        UPDATE plan_terms SET body = @Body WHERE "only" = 1;
        INSERT INTO plan_terms ("only", body) SELECT 1, @Body WHERE NOT EXISTS (SELECT 1 FROM plan_terms)
        """;

    private const string GrowVersionSql = "UPDATE registry_version SET version = version + 1";

    private const string FindOperatorSql = "SELECT id, body FROM operator WHERE code_key = @Key";
    private const string FindSiteSql = "SELECT id, body FROM site WHERE code_key = @Key";
    private const string FindModelSql = "SELECT id, body FROM model WHERE code_key = @Key";
    private const string FindUnitSql = "SELECT id, body FROM unit WHERE code_key = @Key";
    private const string FindRuleSql = "SELECT id, body FROM \"rule\" WHERE code_key = @Key";
    private const string FindSupplierSql = "SELECT id, body FROM supplier WHERE code_key = @Key";
    private const string FindPartSql = "SELECT id, body FROM part WHERE code_key = @Key";
    private const string FindStockPointSql = "SELECT id, body FROM stock_point WHERE code_key = @Key";

    private const string InsertOperatorSql = "INSERT INTO operator (code, code_key, body) VALUES (@Code, @Key, @Body)";

    private const string InsertSiteSql = """
        INSERT INTO site (code, code_key, body, operator_id)
        VALUES (@Code, @Key, @Body, (SELECT id FROM operator WHERE code_key = @Parent))
        """;

    private const string InsertModelSql = "INSERT INTO model (code, code_key, body) VALUES (@Code, @Key, @Body)";

    private const string InsertUnitSql = """
        INSERT INTO unit (code, code_key, body, site_id, model_id)
        VALUES (@Code, @Key, @Body, (SELECT id FROM site WHERE code_key = @Parent), (SELECT id FROM model WHERE code_key = @Model))
        """;

    private const string InsertRuleSql = "INSERT INTO \"rule\" (code, code_key, body) VALUES (@Code, @Key, @Body);\n" + KeepReachSql;

    private const string KeepReachSql = RuleVersionQueries.AddReach + " WHERE r.code_key = @Key" + RuleVersionQueries.UnlessThere;

    private const string InsertSupplierSql = "INSERT INTO supplier (code, code_key, body) VALUES (@Code, @Key, @Body)";
    private const string InsertPartSql = "INSERT INTO part (code, code_key, body) VALUES (@Code, @Key, @Body)";
    private const string InsertStockPointSql = "INSERT INTO stock_point (code, code_key, body) VALUES (@Code, @Key, @Body)";

    private const string UpdateOperatorSql = "UPDATE operator SET code = @Code, body = @Body WHERE id = @Id";

    private const string UpdateSiteSql = """
        UPDATE site SET code = @Code, body = @Body, operator_id = (SELECT id FROM operator WHERE code_key = @Parent) WHERE id = @Id
        """;

    private const string UpdateModelSql = "UPDATE model SET code = @Code, body = @Body WHERE id = @Id";

    private const string UpdateUnitSql = """
        UPDATE unit SET code = @Code, body = @Body,
            site_id = (SELECT id FROM site WHERE code_key = @Parent), model_id = (SELECT id FROM model WHERE code_key = @Model)
        WHERE id = @Id
        """;

    private const string UpdateRuleSql = "UPDATE \"rule\" SET code = @Code, body = @Body WHERE id = @Id;\n" + KeepReachSql;
    private const string UpdateSupplierSql = "UPDATE supplier SET code = @Code, body = @Body WHERE id = @Id";
    private const string UpdatePartSql = "UPDATE part SET code = @Code, body = @Body WHERE id = @Id";
    private const string UpdateStockPointSql = "UPDATE stock_point SET code = @Code, body = @Body WHERE id = @Id";

    public static Task<bool> ExistsAsync(WriteSession session, string kind, string code, CancellationToken cancellationToken)
    {
        string sql = kind switch
        {
            "operator" => OperatorExistsSql,
            "site" => SiteExistsSql,
            "model" => ModelExistsSql,
            "unit" => UnitExistsSql,
            "supplier" => SupplierExistsSql,
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Nothing refers to this kind."),
        };
        return session.Connection.ExecuteScalarAsync<bool>(session.Command(sql, new { Key = Codes.Key(code) }, cancellationToken));
    }

    public static Task<StoredBody?> FindAsync(WriteSession session, string kind, string code, CancellationToken cancellationToken) =>
        session.Connection.QuerySingleOrDefaultAsync<StoredBody>(
            session.Command(For(kind).Find, new { Key = Codes.Key(code) }, cancellationToken));

    public static Task InsertAsync(WriteSession session, string kind, RegistryRow row, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(For(kind).Insert, row, cancellationToken));

    public static Task UpdateAsync(WriteSession session, string kind, RegistryRow row, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(For(kind).Update, row, cancellationToken));

    public static Task GrowVersionAsync(WriteSession session, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(GrowVersionSql, null, cancellationToken));

    public static Task<string?> PlanTermsAsync(WriteSession session, CancellationToken cancellationToken) =>
        session.Connection.ExecuteScalarAsync<string?>(session.Command(PlanTermsSql, null, cancellationToken));

    public static Task PutPlanTermsAsync(WriteSession session, string body, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(PutPlanTermsSql, new { Body = body }, cancellationToken));

    private static Statements For(string kind) => kind switch
    {
        "operator" => new(FindOperatorSql, InsertOperatorSql, UpdateOperatorSql),
        "site" => new(FindSiteSql, InsertSiteSql, UpdateSiteSql),
        "model" => new(FindModelSql, InsertModelSql, UpdateModelSql),
        "unit" => new(FindUnitSql, InsertUnitSql, UpdateUnitSql),
        "rule" => new(FindRuleSql, InsertRuleSql, UpdateRuleSql),
        "supplier" => new(FindSupplierSql, InsertSupplierSql, UpdateSupplierSql),
        "part_number" => new(FindPartSql, InsertPartSql, UpdatePartSql),
        "stock_point" => new(FindStockPointSql, InsertStockPointSql, UpdateStockPointSql),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "There is no such kind."),
    };

    private readonly record struct Statements(string Find, string Insert, string Update);
}

/// <summary>A resource as its table holds it.</summary>
internal sealed class StoredBody
{
    public int Id { get; init; }

    public string Body { get; init; } = string.Empty;
}

/// <summary>Values of a row of the registry; a statement takes those that its table has.</summary>
/// <remarks>A rule says whom it is for.</remarks>
internal sealed record RegistryRow(int? Id, string Code, string Key, string Body, string? Parent, string? Model, RuleScopeResource? For)
{
    public string? ForOperator { get; } = Codes.KeyOf(For?.Operator);

    public string? ForSite { get; } = Codes.KeyOf(For?.Site);

    public string? ForUnit { get; } = Codes.KeyOf(For?.Unit);
}
