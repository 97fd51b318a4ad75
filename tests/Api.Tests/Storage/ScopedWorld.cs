using System.Text.Json;
using System.Text.Json.Nodes;
using Dapper;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Tests.Demo;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Storage;

/// <summary>An invented fleet of three operators in which every table has rows of two of them, and what a scope should hold of each table,
/// worked out here from the unscoped rows without the product's list.</summary>
internal sealed class ScopedWorld
{
    // What neither fleet nor requests leave behind; @u and @s are one unit and its site.
    private const string OfUnit = """
        INSERT INTO condition (seq, position, grade) SELECT max(seq), 'pump', 'good' FROM record WHERE unit_id = @u AND type = 'meter';
        INSERT INTO visit_photo (source, visit_key, unit_id, received_ms, kind, sha256, bytes, body) VALUES ('s', 'v' || @u, @u, 1, 'image/png', x'00', 1, x'01');
        INSERT INTO equipment_change (unit_id, channel, at_ms, active) VALUES (@u, 'cleaning', 1, 1);
        INSERT INTO equipment_heard (unit_id, heartbeat_ms) VALUES (@u, 1);
        INSERT INTO alert (kind, unit_id, rule, opened_ms, sentence) VALUES ('silent', @u, '', 1, 'Silent.');
        INSERT INTO plan_decision (unit_id, position, decision, by_name, entered_by, at_ms) VALUES (@u, 'pump', 'accepted', 'x', 'x', 1);
        INSERT INTO plan_given (uid, site_id, day, jobs, summary, details, sequence, cancelled, changed_ms) VALUES ('g' || @u, @s, '2026-01-01', '[]', '', '', 0, 0, 1);
        INSERT INTO plan_forecast (quarter, made_ms, made_afterwards) SELECT '2026-Q1', 1, 0 WHERE NOT EXISTS (SELECT 1 FROM plan_forecast);
        INSERT INTO plan_forecast_part (quarter, unit_id, position, ordinal, chance) VALUES ('2026-Q1', @u, 'pump', 1, 0.5);
        """;

    private const string OfNobody = """
        INSERT INTO webhook (code, code_key, url, enabled, secret, made_ms) VALUES ('w', 'w', 'https://x.invalid', 1, 'x', 1);
        INSERT INTO webhook_message (webhook_id, code, type, body, state, tries, made_ms, due_ms) VALUES (1, 'm', 'webhook.test', '{}', 'dead', 0, 1, 1);
        INSERT INTO webhook_attempt (message_id, at_ms) VALUES (1, 1);
        INSERT INTO import_mapping (code, code_key, kind, body, changed_ms) VALUES ('m', 'm', 'wash', '{}', 1);
        INSERT INTO import_sheet (owner, stored_name, file_name, kind, source, state, made_ms, touched_ms, last_row, rows_done, accepted, duplicates, refused, doubted, refused_bytes)
            VALUES ('x', 'x', 'x', 'wash', 'x', 'done', 1, 1, 0, 0, 0, 0, 0, 0, 0);
        INSERT INTO import_progress (digest, rows_done, touched_ms) VALUES ('d', 1, 1);
        INSERT INTO sign_in_link (hash, key_id, expires_ms) SELECT x'00', min(id), 1 FROM api_key;
        INSERT INTO person (login, login_key, name, abilities, created_ms) VALUES ('p', 'p', 'P', 'read', 1);
        INSERT INTO sign_in_session (hash, person_id, created_ms, seen_ms, address, agent) VALUES (x'00', 1, 1, 1, '', '');
        INSERT INTO view_link (hash, name, shows, scope, made_by, made_ms) VALUES (x'00', 'x', 'board', 'everything', 'x', 1);
        INSERT INTO person_link (hash, abilities, scope, note, made_by, made_ms, expires_ms) VALUES (x'00', 'read', 'everything', '', 'x', 1, 2);
        INSERT INTO person_preference (person_id, chosen) SELECT min(id), 'clock=12' FROM person;
        INSERT INTO request_key (key_id, request_key, content_hash, status, answer, answered_ms) SELECT min(id), 'k', x'00', 200, x'00', 1 FROM api_key;
        INSERT INTO cookie_key (name, body) VALUES ('k', '<k/>');
        INSERT INTO upkeep_run (task, begun_ms, ended_ms, succeeded, sentence) VALUES ('prune', 1, 2, 1, 'Done.');
        INSERT INTO write_mark (at_ms, mark) VALUES (1, 'm');
        """;

    private static readonly HashSet<string> Everybodys = ["model", "supplier", "part", "registry_version", "plan_forecast"];

    private static readonly HashSet<string> Nobodys =
    [
        "void", "stock_point", "plan_terms", "webhook", "webhook_message", "webhook_attempt", "import_mapping", "import_sheet", "import_progress", "api_key",
        "sign_in_link", "person", "sign_in_session", "person_link", "person_preference", "view_link", "request_key", "cookie_key", "write_mark", "SchemaVersions", "projection_kind", "upkeep_run",
        "audit_name", "audit_entry", "audit_outcome", "audit_mark", "erasure", "erased_record",
    ];

    private readonly SqliteConnection _all;
    private readonly Dictionary<long, Unit> _units;

    private ScopedWorld(SqliteConnection all)
    {
        _all = all;
        _units = all.Query<Unit>("""
            SELECT u.id AS Id, u.code AS Code, s.id AS Site, s.code AS SiteCode, o.id AS Operator, o.code AS OperatorCode
            FROM main.unit u JOIN main.site s ON s.id = u.site_id JOIN main.operator o ON o.id = s.operator_id
            """).ToDictionary(unit => unit.Id);
    }

    /// <summary>All units.</summary>
    public IReadOnlyCollection<Unit> Units => _units.Values;

    /// <summary>Names of all tables.</summary>
    public IReadOnlyList<string> Tables =>
        [.. _all.Query<string>("SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!'")];

    /// <summary>Fills a new installation: the fleet, requests, and what neither leaves behind.</summary>
    public static async Task FillAsync(ApiHost host)
    {
        Api.Demo.SimulatedFleet fleet = Fleets.Of(3, units: 12, years: 1);
        await host.Services.GetRequiredService<RegistryWriter>().PutAsync(fleet.Registry, CancellationToken.None);
        await host.Services.GetRequiredService<IngestService>().TakeInAsync(fleet.Records(), CancellationToken.None);
        await using SqliteConnection all = Open(host);
        var world = new ScopedWorld(all);
        Unit[] two = [.. world.Units.OrderBy(unit => unit.Id).DistinctBy(unit => unit.Operator).Take(2)];
        foreach (Unit unit in two)
        {
            await RequestsAsync(host, unit, two.Single(other => other != unit));
            await all.ExecuteAsync(OfUnit, new { u = unit.Id, s = unit.Site });
        }

        await all.ExecuteAsync(OfNobody);
    }

    /// <summary>The installation as it stands.</summary>
    public static ScopedWorld Of(ApiHost host) => new(Open(host));

    /// <summary>The rows that a scope should hold.</summary>
    public List<string> Expected(string table, Func<Unit, bool> isMine, bool isWholeSites)
    {
        HashSet<long> units = [.. _units.Values.Where(isMine).Select(unit => unit.Id)];
        Unit[] mine = [.. _units.Values.Where(isMine)];
        return [.. Rows(table).Where(row => IsMine(table, row, units, mine, isWholeSites)).Select(Line).Order(StringComparer.Ordinal)];
    }

    /// <summary>Tables of which a scope may hold rows.</summary>
    public IEnumerable<string> Readable => Tables.Except(Nobodys);

    /// <summary>The rows that there are.</summary>
    public int Count(string table) => Rows(table).Count();

    /// <summary>A row in one line.</summary>
    public static string Line(IDictionary<string, object?> row) => string.Join('|', row.Select(cell =>
        cell.Key + "=" + (cell.Value is byte[] bytes ? Convert.ToHexString(bytes) : Convert.ToString(cell.Value, System.Globalization.CultureInfo.InvariantCulture))));

    private static SqliteConnection Open(ApiHost host)
    {
        var all = new SqliteConnection($"Data Source={host.Database.File};Pooling=False");
        all.Open();
        return all;
    }

    // A void, a void that came first, a replacement that moves a record to another operator's unit, refused rows, rules that came and went.
    private static async Task RequestsAsync(ApiHost host, Unit unit, Unit other)
    {
        (string n, string grade) = (unit.Code, unit.Id < other.Id ? "light" : "rinse");
        string Wash(string key, string of, string more = "") =>
            $$"""{"type":"wash","key":"{{key}}","unit":"{{of}}","at":"2026-02-20T22:00:00+01:00","grade":"standard","outcome":"completed"{{more}}}""";
        await Sending.SendAsync(
            host.Admin,
            string.Join('\n',
                Wash("w1-" + n, n), $$"""{"type":"void","key":"x1-{{n}}","at":"2026-02-22T14:00:00Z","voids":"w1-{{n}}","reason":"a slip"}""",
                $$"""{"type":"void","key":"x2-{{n}}","at":"2026-02-22T14:00:00Z","voids":"w9-{{n}}","reason":"comes later"}""",
                Wash("w2-" + n, n), Wash("w3-" + n, other.Code, $",\"replaces\":\"w2-{n}\""),
                Wash("bad-" + n, n.ToUpperInvariant(), ",\"detergent_doses\":-1"), Wash("none-" + n, "nobody's")),
            "application/x-ndjson");
        await Sending.SendAsync(host.Admin, $"type,key,unit,at,outcome\nwash,csv-{n},{n},yesterday,completed\n", "text/csv");
        foreach (string scope in new[] { $$"""{"operator":"{{unit.OperatorCode.ToUpperInvariant()}}"}""", $$"""{"operator":"{{other.OperatorCode}}"}""" })
        {
            await PutAsync(host, "/v1/rules/moved-" + n, $$"""{"scope":{{scope}},"grade":"{{grade}}","every_trading_days":9,"grace_hours":2,"basis":"x"}""");
        }

        foreach (string scope in new[] { $$"""{"site":"{{unit.SiteCode}}"}""", $$"""{"unit":"{{unit.Code}}"}""" })
        {
            string name = scope.Contains("site", StringComparison.Ordinal) ? "site" : "unit";
            await PutAsync(host, $"/v1/rules/{name}-{n}", $$"""{"scope":{{scope}},"grade":"rinse","every_trading_days":9,"grace_hours":2,"basis":"x"}""");
        }
    }

    private static async Task PutAsync(ApiHost host, string path, string body)
    {
        using HttpResponseMessage answer = await Samples.PutAsync(host.Admin, path, body);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }

    private static long? Number(IDictionary<string, object?> row, string column) => row[column] is { } value ? (long)value : null;

    private IEnumerable<IDictionary<string, object?>> Rows(string table) => _all.Query($"SELECT * FROM main.\"{table}\"").Cast<IDictionary<string, object?>>();

    private bool IsMine(string table, IDictionary<string, object?> row, HashSet<long> units, Unit[] mine, bool isWholeSites) => table switch
    {
        _ when Everybodys.Contains(table) => true,
        _ when Nobodys.Contains(table) => false,
        "operator" => mine.Any(unit => unit.Operator == Number(row, "id")),
        "site" => mine.Any(unit => unit.Site == Number(row, "id")),
        "unit" => units.Contains((long)row["id"]!),
        "plan_given" => isWholeSites && mine.Any(unit => unit.Site == Number(row, "site_id")),
        "cleaning_period" => units.Contains((long)row["id"]! % 4294967296),
        "wash" or "visit" or "approval" or "condition" => IsRecord(Number(row, "seq"), units),
        "voided" => IsRecord(Number(row, "target_seq"), units) || IsRecord(Number(row, "by_seq"), units),
        "refused" => (string)row["format"]! == "json" && JsonNode.Parse((string)row["body"]!)?["unit"]?.GetValue<string>() is { } code
            && mine.Any(unit => unit.Code.Equals(code, StringComparison.OrdinalIgnoreCase)),
        "rule" => IsRule((long)row["id"]!, mine),
        "rule_version" => IsRule((long)row["rule_id"]!, mine),
        "rule_reach" => Number(row, "operator_id") is { } of ? mine.Any(unit => unit.Operator == of)
            : Number(row, "site_id") is { } at ? mine.Any(unit => unit.Site == at)
            : Number(row, "unit_id") is not { } one || units.Contains(one),
        _ => row.ContainsKey("unit_id") && Number(row, "unit_id") is { } id && units.Contains(id),
    };

    private bool IsRecord(long? seq, HashSet<long> units) => seq is { } number
        && _all.ExecuteScalar<long?>("SELECT unit_id FROM main.record WHERE seq = @number", new { number }) is { } unit && units.Contains(unit);

    // From what the rule says and said, not from what is kept beside it.
    private bool IsRule(long id, Unit[] mine) => _all
        .Query<string>("SELECT body FROM main.rule WHERE id = @id UNION ALL SELECT body FROM main.rule_version WHERE rule_id = @id", new { id })
        .Select(body => JsonDocument.Parse(body).RootElement.GetProperty("scope"))
        .Any(scope => Is(scope, "operator", mine.Select(unit => unit.OperatorCode)) ?? Is(scope, "site", mine.Select(unit => unit.SiteCode))
            ?? Is(scope, "unit", mine.Select(unit => unit.Code)) ?? true);

    private static bool? Is(JsonElement scope, string field, IEnumerable<string> codes) =>
        scope.TryGetProperty(field, out JsonElement code) && code.ValueKind == JsonValueKind.String
            ? codes.Contains(code.GetString()!, StringComparer.OrdinalIgnoreCase)
            : null;

    /// <summary>A unit and where it is.</summary>
    public sealed record Unit(long Id, string Code, long Site, string SiteCode, long Operator, string OperatorCode);
}
