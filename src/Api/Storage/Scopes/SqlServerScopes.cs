using System.Security.Cryptography;
using System.Text;

namespace Washwear.Api.Storage.Scopes;

/// <summary>Scopes in the words of SQL Server: a policy that filters each table by the scope that the session was given. A session that was
/// given none sees everything.</summary>
/// <remarks>A function asks only tables that come after its own in this order, so that no filter asks for itself: voided, the tables of
/// records, record, unit, site; rule, rule_version, rule_reach.</remarks>
internal static class SqlServerScopes
{
    /// <summary>Gives a session its scope, as long as it is used: numbers between commas, so that each can be found. It fails where the
    /// policy does not hold, which is known by a table that nobody sees within a scope and that never is empty.</summary>
    public const string Set = """
        DECLARE @sites NVARCHAR(4000), @operators NVARCHAR(4000);
        SELECT @sites = CONCAT(',', STRING_AGG(CAST(p.id AS NVARCHAR(MAX)), ','), ',')
        FROM (SELECT u.site_id AS id FROM dbo.unit u WHERE CHARINDEX(CONCAT(',', u.id, ','), @own_units) > 0
              UNION SELECT s.id FROM dbo.site s WHERE CHARINDEX(CONCAT(',', s.id, ','), @own_sites) > 0) p;
        SELECT @operators = CONCAT(',', STRING_AGG(CAST(p.id AS NVARCHAR(MAX)), ','), ',')
        FROM (SELECT s.operator_id AS id FROM dbo.site s WHERE CHARINDEX(CONCAT(',', s.id, ','), @sites) > 0
              UNION SELECT o.id FROM dbo.operator o WHERE CHARINDEX(CONCAT(',', o.id, ','), @own_operators) > 0) p;
        EXEC sp_set_session_context N'washwear.own_operators', @own_operators, 1;
        EXEC sp_set_session_context N'washwear.own_sites', @own_sites, 1;
        EXEC sp_set_session_context N'washwear.own_units', @own_units, 1;
        EXEC sp_set_session_context N'washwear.operators', @operators, 1;
        EXEC sp_set_session_context N'washwear.sites', @sites, 1;
        EXEC sp_set_session_context N'washwear.scope', N'set', 1;
        IF EXISTS (SELECT 1 FROM dbo.api_key)
            THROW 50021, 'This database does not keep scopes apart: its security policy washwear_scope is not there or is off.', 1;
        """;

    private const string Unscoped = "SESSION_CONTEXT(N'washwear.scope') IS NULL";
    private const string OwnOperators = "CAST(SESSION_CONTEXT(N'washwear.own_operators') AS NVARCHAR(4000))";
    private const string OwnSites = "CAST(SESSION_CONTEXT(N'washwear.own_sites') AS NVARCHAR(4000))";
    private const string OwnUnits = "CAST(SESSION_CONTEXT(N'washwear.own_units') AS NVARCHAR(4000))";
    private const string Operators = "CAST(SESSION_CONTEXT(N'washwear.operators') AS NVARCHAR(4000))";
    private const string Sites = "CAST(SESSION_CONTEXT(N'washwear.sites') AS NVARCHAR(4000))";

    private const string IsWholeSite =
        $"(CHARINDEX(CONCAT(',', s.operator_id, ','), {OwnOperators}) > 0 OR CHARINDEX(CONCAT(',', s.id, ','), {OwnSites}) > 0)";

    private const string UnitOfScope = $"({IsWholeSite} OR CHARINDEX(CONCAT(',', u.id, ','), {OwnUnits}) > 0)";

    private const string IsUnit = $"EXISTS (SELECT 1 FROM dbo.unit u JOIN dbo.site s ON s.id = u.site_id WHERE u.id = @unit_id AND {UnitOfScope})";

    private const string IsRecord =
        $"EXISTS (SELECT 1 FROM dbo.record r JOIN dbo.unit u ON u.id = r.unit_id JOIN dbo.site s ON s.id = u.site_id WHERE r.seq = @seq AND {UnitOfScope})";

    private const string IsReached = $"""
        ((x.operator_id IS NULL AND x.site_id IS NULL AND x.unit_id IS NULL)
            OR CHARINDEX(CONCAT(',', x.operator_id, ','), {Operators}) > 0
            OR EXISTS (SELECT 1 FROM dbo.site s WHERE s.id = x.site_id AND ({IsWholeSite} OR CHARINDEX(CONCAT(',', s.id, ','), {Sites}) > 0))
            OR EXISTS (SELECT 1 FROM dbo.unit u JOIN dbo.site s ON s.id = u.site_id WHERE u.id = x.unit_id AND {UnitOfScope}))
        """;

    private static readonly Function[] Functions =
    [
        new(TableReach.Hidden, "scope_none", "@row BIGINT", "0", "1 = 0"),
        new(TableReach.Operators, "scope_operator", "@operator_id BIGINT", "id", $"CHARINDEX(CONCAT(',', @operator_id, ','), {Operators}) > 0"),
        new(TableReach.Sites, "scope_site", "@site_id BIGINT, @operator_id BIGINT", "id, operator_id",
            $"(CHARINDEX(CONCAT(',', @operator_id, ','), {OwnOperators}) > 0 OR CHARINDEX(CONCAT(',', @site_id, ','), {Sites}) > 0)"),
        new(TableReach.Units, "scope_unit", "@unit_id BIGINT, @site_id BIGINT", "id, site_id",
            $"EXISTS (SELECT 1 FROM (SELECT @unit_id AS id) u CROSS JOIN dbo.site s WHERE s.id = @site_id AND {UnitOfScope})"),
        new(TableReach.OfUnit, "scope_of_unit", "@unit_id BIGINT", "unit_id", IsUnit),
        new(TableReach.InUnitOrder, "scope_of_unit", "@unit_id BIGINT", "unit_id", IsUnit),
        new(TableReach.OfPeriod, "scope_of_period", "@unit_id BIGINT", "id & CAST(4294967295 AS BIGINT)", IsUnit),
        new(TableReach.OfWholeSite, "scope_of_whole_site", "@site_id BIGINT", "site_id",
            $"EXISTS (SELECT 1 FROM dbo.site s WHERE s.id = @site_id AND {IsWholeSite})"),
        new(TableReach.OfRecord, "scope_of_record", "@seq BIGINT", "seq", IsRecord),
        new(TableReach.Voided, "scope_voided", "@target_seq BIGINT, @by_seq BIGINT", "target_seq, by_seq",
            $"({IsRecord.Replace("@seq", "@target_seq", StringComparison.Ordinal)} OR {IsRecord.Replace("@seq", "@by_seq", StringComparison.Ordinal)})"),
        new(TableReach.Refused, "scope_refused", "@format NVARCHAR(8), @body NVARCHAR(MAX)", "format, body",
            $"""
            CASE WHEN @format = 'json' AND ISJSON(@body) = 1 AND EXISTS (
                SELECT 1 FROM dbo.unit u JOIN dbo.site s ON s.id = u.site_id
                WHERE u.code_key = LOWER(JSON_VALUE(CASE WHEN ISJSON(@body) = 1 THEN @body END, '$.unit')) COLLATE Latin1_General_BIN2 AND {UnitOfScope})
                THEN 1 ELSE 0 END = 1
            """),
        new(TableReach.RuleReach, "scope_rule_reach", "@operator_id BIGINT, @site_id BIGINT, @unit_id BIGINT", "operator_id, site_id, unit_id",
            $"EXISTS (SELECT 1 FROM (SELECT @operator_id AS operator_id, @site_id AS site_id, @unit_id AS unit_id) x WHERE {IsReached})"),
        new(TableReach.Rules, "scope_rule", "@rule_id BIGINT", "id", $"EXISTS (SELECT 1 FROM dbo.rule_reach x WHERE x.rule_id = @rule_id AND {IsReached})"),
        new(TableReach.OfRule, "scope_of_rule", "@rule_id BIGINT", "rule_id",
            $"EXISTS (SELECT 1 FROM dbo.rule_reach x WHERE x.rule_id = @rule_id AND {IsReached})"),
    ];

    /// <summary>The script that makes functions and policy anew.</summary>
    public static string Script { get; } = string.Join("\nGO\n", Parts());

    /// <summary>Name of the script, another for each content: it is run once, and again when the list of tables has changed.</summary>
    public static string ScriptName { get; } = Migrator.UnnumberedFolder + "scopes_" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Script)))[..12];

    private static IEnumerable<string> Parts() =>
    [
        "DROP SECURITY POLICY IF EXISTS dbo.washwear_scope;",
        .. Distinct().Select(function => $"DROP FUNCTION IF EXISTS dbo.{function.Name};"),
        .. Distinct().Select(function =>
            $"CREATE FUNCTION dbo.{function.Name} ({function.Takes}) RETURNS TABLE WITH SCHEMABINDING AS RETURN SELECT 1 AS seen\nWHERE {Unscoped} OR {function.Condition};"),
        "CREATE SECURITY POLICY dbo.washwear_scope\n" + string.Join(",\n", ScopedTables.All.Select(Filter).OfType<string>()) + "\nWITH (STATE = ON);",
    ];

    private static IEnumerable<Function> Distinct() => Functions.DistinctBy(function => function.Name);

    // The list of applied scripts has columns of its own, and the program must read it whatever happens.
    private static string? Filter(ScopedTable table) =>
        table.Name == "SchemaVersions" ? null
        : Array.Find(Functions, function => function.Reach == table.Reach) is { } found
            ? $"ADD FILTER PREDICATE dbo.{found.Name}({found.Given}) ON dbo.\"{table.Name}\""
            : null;

    private sealed record Function(TableReach Reach, string Name, string Takes, string Given, string Condition);
}
