using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Storage;

namespace Washwear.Api.Registry;

/// <summary>Reads and writes earlier versions of rules.</summary>
internal static class RuleVersionQueries
{
    private const string AllSql = """
        SELECT id AS Id, rule_id AS RuleId, until_day AS UntilDay, body AS Body, replaced_ms AS ReplacedMs, withdrawn_ms AS WithdrawnMs
        FROM rule_version ORDER BY rule_id, until_day, id
        """;

    private const string OfRuleSql = """
        SELECT id AS Id, rule_id AS RuleId, until_day AS UntilDay, body AS Body, replaced_ms AS ReplacedMs, withdrawn_ms AS WithdrawnMs
        FROM rule_version WHERE rule_id = @RuleId ORDER BY until_day, id
        """;

    /// <summary>Keeps whom a rule is or was for; a condition that chooses the rule stands between the two.</summary>
    public const string AddReach = """
        INSERT INTO rule_reach (rule_id, operator_id, site_id, unit_id)
        SELECT r.id, o.id, s.id, u.id
        FROM "rule" r
        LEFT JOIN operator o ON o.code_key = @ForOperator
        LEFT JOIN site s ON s.code_key = @ForSite
        LEFT JOIN unit u ON u.code_key = @ForUnit
        """;

    /// <summary>How that ends.</summary>
    public const string UnlessThere = """
         AND NOT EXISTS (
            SELECT 1 FROM rule_reach x
            WHERE x.rule_id = r.id AND coalesce(x.operator_id, 0) = coalesce(o.id, 0) AND coalesce(x.site_id, 0) = coalesce(s.id, 0)
                AND coalesce(x.unit_id, 0) = coalesce(u.id, 0))
        """;

    private const string InsertSql = """
        INSERT INTO rule_version (rule_id, until_day, body, replaced_ms, withdrawn_ms) VALUES (@RuleId, @UntilDay, @Body, @ReplacedMs, @WithdrawnMs);

        """ + AddReach + " WHERE r.id = @RuleId" + UnlessThere;

    private const string WithdrawSql = "UPDATE rule_version SET withdrawn_ms = @AtMs WHERE id = @Id AND withdrawn_ms IS NULL";

    public static async Task<IReadOnlyList<RuleVersionEntry>> AllAsync(
        DbConnection connection, DbTransaction transaction, CancellationToken cancellationToken) =>
        [.. (await connection.QueryAsync<Row>(new CommandDefinition(AllSql, transaction: transaction, cancellationToken: cancellationToken)))
            .Select(row => row.Read())];

    public static async Task<IReadOnlyList<RuleVersionEntry>> OfRuleAsync(WriteSession session, int ruleId, CancellationToken cancellationToken) =>
        [.. (await session.Connection.QueryAsync<Row>(session.Command(OfRuleSql, new { RuleId = ruleId }, cancellationToken)))
            .Select(row => row.Read())];

    public static Task InsertAsync(WriteSession session, int ruleId, RuleVersionResource version, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(
            InsertSql,
            new
            {
                RuleId = ruleId,
                UntilDay = version.Until.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                Body = JsonSerializer.Serialize(version.Rule, Json.Options),
                ReplacedMs = version.ReplacedAt.ToUnixTimeMilliseconds(),
                WithdrawnMs = version.WithdrawnAt?.ToUnixTimeMilliseconds(),
                ForOperator = Codes.KeyOf(version.Rule.Scope.Operator),
                ForSite = Codes.KeyOf(version.Rule.Scope.Site),
                ForUnit = Codes.KeyOf(version.Rule.Scope.Unit),
            },
            cancellationToken));

    public static Task WithdrawAsync(WriteSession session, int id, DateTimeOffset at, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(WithdrawSql, new { Id = id, AtMs = at.ToUnixTimeMilliseconds() }, cancellationToken));

    private sealed class Row
    {
        public int Id { get; init; }

        public int RuleId { get; init; }

        public string UntilDay { get; init; } = string.Empty;

        public string Body { get; init; } = string.Empty;

        public long ReplacedMs { get; init; }

        public long? WithdrawnMs { get; init; }

        public RuleVersionEntry Read() => new(Id, RuleId, new RuleVersionResource(
            JsonSerializer.Deserialize<RuleResource>(Body, Json.Options)!,
            DateOnly.ParseExact(UntilDay, "yyyy-MM-dd", CultureInfo.InvariantCulture),
            DateTimeOffset.FromUnixTimeMilliseconds(ReplacedMs),
            WithdrawnMs is { } ms ? DateTimeOffset.FromUnixTimeMilliseconds(ms) : null));
    }
}
