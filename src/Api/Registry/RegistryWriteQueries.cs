using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Registry;

/// <summary>Statements that change the registry.</summary>
internal static class RegistryWriteQueries
{
    private const string OperatorExistsSql = "SELECT EXISTS (SELECT 1 FROM operator WHERE code_key = @Key)";
    private const string SiteExistsSql = "SELECT EXISTS (SELECT 1 FROM site WHERE code_key = @Key)";
    private const string ModelExistsSql = "SELECT EXISTS (SELECT 1 FROM model WHERE code_key = @Key)";
    private const string UnitExistsSql = "SELECT EXISTS (SELECT 1 FROM unit WHERE code_key = @Key)";

    private const string SupplierExistsSql = "SELECT EXISTS (SELECT 1 FROM supplier WHERE code_key = @Key)";
    private const string PlanTermsSql = "SELECT body FROM plan_terms";
    private const string PutPlanTermsSql = "INSERT OR REPLACE INTO plan_terms (only, body) VALUES (1, @Body)";

    private const string GrowVersionSql = "UPDATE registry_version SET version = version + 1";

    private static readonly Statements Operator = new(
        "SELECT id, body FROM operator WHERE code_key = @Key",
        "INSERT INTO operator (code, code_key, body) VALUES (@Code, @Key, @Body) RETURNING id",
        "UPDATE operator SET code = @Code, body = @Body WHERE id = @Id RETURNING id");

    private static readonly Statements Site = new(
        "SELECT id, body FROM site WHERE code_key = @Key",
        """
        INSERT INTO site (code, code_key, body, operator_id)
        VALUES (@Code, @Key, @Body, (SELECT id FROM operator WHERE code_key = @Parent))
        RETURNING id
        """,
        """
        UPDATE site SET code = @Code, body = @Body, operator_id = (SELECT id FROM operator WHERE code_key = @Parent)
        WHERE id = @Id
        RETURNING id
        """);

    private static readonly Statements Model = new(
        "SELECT id, body FROM model WHERE code_key = @Key",
        "INSERT INTO model (code, code_key, body) VALUES (@Code, @Key, @Body) RETURNING id",
        "UPDATE model SET code = @Code, body = @Body WHERE id = @Id RETURNING id");

    private static readonly Statements Unit = new(
        "SELECT id, body FROM unit WHERE code_key = @Key",
        """
        INSERT INTO unit (code, code_key, body, site_id, model_id)
        VALUES (@Code, @Key, @Body, (SELECT id FROM site WHERE code_key = @Parent), (SELECT id FROM model WHERE code_key = @Model))
        RETURNING id
        """,
        """
        UPDATE unit SET code = @Code, body = @Body,
            site_id = (SELECT id FROM site WHERE code_key = @Parent), model_id = (SELECT id FROM model WHERE code_key = @Model)
        WHERE id = @Id
        RETURNING id
        """);

    private static readonly Statements Rule = new(
        "SELECT id, body FROM rule WHERE code_key = @Key",
        "INSERT INTO rule (code, code_key, body) VALUES (@Code, @Key, @Body) RETURNING id",
        "UPDATE rule SET code = @Code, body = @Body WHERE id = @Id RETURNING id");

    private static readonly Statements Supplier = new(
        "SELECT id, body FROM supplier WHERE code_key = @Key",
        "INSERT INTO supplier (code, code_key, body) VALUES (@Code, @Key, @Body) RETURNING id",
        "UPDATE supplier SET code = @Code, body = @Body WHERE id = @Id RETURNING id");

    private static readonly Statements Part = new(
        "SELECT id, body FROM part WHERE code_key = @Key",
        "INSERT INTO part (code, code_key, body) VALUES (@Code, @Key, @Body) RETURNING id",
        "UPDATE part SET code = @Code, body = @Body WHERE id = @Id RETURNING id");

    private static readonly Statements StockPoint = new(
        "SELECT id, body FROM stock_point WHERE code_key = @Key",
        "INSERT INTO stock_point (code, code_key, body) VALUES (@Code, @Key, @Body) RETURNING id",
        "UPDATE stock_point SET code = @Code, body = @Body WHERE id = @Id RETURNING id");

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

    public static Task<int> InsertAsync(WriteSession session, string kind, RegistryRow row, CancellationToken cancellationToken) =>
        session.Connection.ExecuteScalarAsync<int>(session.Command(For(kind).Insert, row, cancellationToken));

    public static Task<int> UpdateAsync(WriteSession session, string kind, RegistryRow row, CancellationToken cancellationToken) =>
        session.Connection.ExecuteScalarAsync<int>(session.Command(For(kind).Update, row, cancellationToken));

    public static Task GrowVersionAsync(WriteSession session, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(GrowVersionSql, null, cancellationToken));

    public static Task<string?> PlanTermsAsync(WriteSession session, CancellationToken cancellationToken) =>
        session.Connection.ExecuteScalarAsync<string?>(session.Command(PlanTermsSql, null, cancellationToken));

    public static Task PutPlanTermsAsync(WriteSession session, string body, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(PutPlanTermsSql, new { Body = body }, cancellationToken));

    private static Statements For(string kind) => kind switch
    {
        "operator" => Operator,
        "site" => Site,
        "model" => Model,
        "unit" => Unit,
        "rule" => Rule,
        "supplier" => Supplier,
        "part_number" => Part,
        "stock_point" => StockPoint,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "There is no such kind."),
    };

    private sealed record Statements(string Find, string Insert, string Update);
}

/// <summary>A resource as its table holds it.</summary>
internal sealed class StoredBody
{
    public int Id { get; init; }

    public string Body { get; init; } = string.Empty;
}

/// <summary>Values of a row of the registry; a statement takes those that its table has.</summary>
internal sealed record RegistryRow(int? Id, string Code, string Key, string Body, string? Parent, string? Model);
