namespace Washwear.Api.Storage.Scopes;

/// <summary>A scope in the words of SQLite: for each table a temporary view of the same name, which SQLite finds before the table itself.
/// The numbers stand in the views, but what belongs to them is looked up at each question.</summary>
/// <param name="scope">The scope.</param>
internal sealed class SqliteScopes(DataScope scope)
{
    /// <summary>Made last, so that where it is, all are.</summary>
    private const string Mark = "scope_is_set";

    /// <summary>Whether the views are there.</summary>
    public const string AreSet = $"SELECT count(*) FROM sqlite_temp_schema WHERE name = '{Mark}'";

    /// <summary>Names of all tables.</summary>
    public const string Tables = "SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'";

    private static readonly Dictionary<string, TableReach> Reaches = ScopedTables.All.ToDictionary(
        table => table.Name, table => table.Reach, StringComparer.OrdinalIgnoreCase);

    private readonly string _operators = scope.Kind switch
    {
        DataScopeKind.Operators => $"({scope.Numbers})",
        DataScopeKind.Sites => $"(SELECT os.operator_id FROM main.site os WHERE os.id IN ({scope.Numbers}))",
        _ => $"(SELECT os.operator_id FROM main.unit ou JOIN main.site os ON os.id = ou.site_id WHERE ou.id IN ({scope.Numbers}))",
    };

    private readonly string _sites = scope.Kind switch
    {
        DataScopeKind.Operators => $"(SELECT ss.id FROM main.site ss WHERE ss.operator_id IN ({scope.Numbers}))",
        DataScopeKind.Sites => $"({scope.Numbers})",
        _ => $"(SELECT su.site_id FROM main.unit su WHERE su.id IN ({scope.Numbers}))",
    };

    private readonly string _units = scope.Kind switch
    {
        DataScopeKind.Operators =>
            $"(SELECT uu.id FROM main.site us JOIN main.unit uu ON uu.site_id = us.id WHERE us.operator_id IN ({scope.Numbers}))",
        DataScopeKind.Sites => $"(SELECT uu.id FROM main.unit uu WHERE uu.site_id IN ({scope.Numbers}))",
        _ => $"({scope.Numbers})",
    };

    private string Rules => $"(SELECT reached.rule_id FROM main.rule_reach reached WHERE {Reached("reached")})";

    /// <summary>Makes the views.</summary>
    /// <param name="tables">Names of all tables.</param>
    public string Make(IEnumerable<string> tables) => string.Concat(tables.Select(View)) + $"CREATE TEMP VIEW {Mark} AS SELECT '{scope}' AS scope;";

    // A table that nobody has classed is hidden.
    private string View(string table) => Condition($"\"{table}\"", Reaches.GetValueOrDefault(table, TableReach.Hidden)) is { } condition
        ? $"CREATE TEMP VIEW \"{table}\" AS SELECT * FROM main.\"{table}\" AS \"{table}\" WHERE {condition};\n"
        : string.Empty;

    private string? Condition(string t, TableReach reach) => reach switch
    {
        TableReach.Shared => null,

        // The plus keeps SQLite from finding rows by the scope: a question that goes through a table in some order, a page at a time, or finds
        // its rows by something else does so here too.
        TableReach.Operators => $"+{t}.id IN {_operators}",
        TableReach.Sites => $"+{t}.id IN {_sites}",
        TableReach.Units => $"+{t}.id IN {_units}",
        TableReach.OfUnit => $"+{t}.unit_id IN {_units}",
        TableReach.InUnitOrder => $"{t}.unit_id IN {_units}",
        TableReach.OfWholeSite => scope.Kind == DataScopeKind.Units ? "0" : $"+{t}.site_id IN {_sites}",
        TableReach.OfPeriod => $"({t}.id & 4294967295) IN {_units}",
        TableReach.OfRecord => Recorded($"{t}.seq"),
        TableReach.Voided => $"{Recorded($"{t}.target_seq")} OR {Recorded($"{t}.by_seq")}",
        TableReach.Refused => $"""
            CASE WHEN {t}.format = 'json' AND json_valid({t}.body)
                THEN EXISTS (SELECT 1 FROM main.unit w WHERE w.code_key = lower(json_extract({t}.body, '$.unit')) AND w.id IN {_units}) ELSE 0 END
            """,
        TableReach.RuleReach => Reached(t),
        TableReach.Rules => $"{t}.id IN {Rules}",
        TableReach.OfRule => $"{t}.rule_id IN {Rules}",
        _ => "0",
    };

    private string Recorded(string seq) => $"EXISTS (SELECT 1 FROM main.record r WHERE r.seq = {seq} AND r.unit_id IN {_units})";

    private string Reached(string alias) =>
        $"""
        (({alias}.operator_id IS NULL AND {alias}.site_id IS NULL AND {alias}.unit_id IS NULL)
            OR {alias}.operator_id IN {_operators} OR {alias}.site_id IN {_sites} OR {alias}.unit_id IN {_units})
        """;
}
