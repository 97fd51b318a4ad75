namespace Washwear.Api.Storage.Archive;

/// <summary>The tables that an archive carries: all but what belongs to one installation (the list of applied scripts, cookie keys, files of sheets, what was done to keep it well).
/// A table comes after those that it refers to.</summary>
internal static class ArchivedTables
{
    public static readonly IReadOnlyList<ArchivedTable> All =
    [
        new("operator"),
        new("site"),
        new("model"),
        new("unit"),
        new("rule"),
        new("rule_version"),
        new("rule_reach"),
        new("supplier"),
        new("part"),
        new("stock_point"),
        new("plan_terms"),
        new("registry_version"),
        new("api_key"),
        new("sign_in_link"),
        new("person"),
        new("sign_in_session"),
        new("person_link"),
        new("person_preference"),
        new("view_link"),
        new("request_key"),
        new("record"),
        new("wash"),
        new("fault"),
        new("fault_cleared"),
        new("part_change"),
        new("meter"),
        new("void"),
        new("voided"),
        new("visit"),
        new("approval"),
        new("condition"),
        new("refused"),
        new("visit_photo"),
        new("equipment_change"),
        new("equipment_heard"),
        new("projection_kind"),
        new("wash_span"),
        new("fault_span"),
        new("part_life"),
        new("unit_status"),
        new("visit_span"),
        new("approval_span"),
        new("cleaning_run"),
        new("cleaning_period"),
        new("early_sign"),
        new("wash_month"),
        new("alert"),
        new("webhook"),
        new("webhook_message"),
        new("webhook_attempt"),
        new("plan_decision"),
        new("plan_given"),
        new("plan_forecast"),
        new("plan_forecast_part"),
        new("import_mapping"),
        new("import_sheet"),
        new("import_progress"),
        new("erasure"),
        new("erased_record"),
        new("audit_name"),
        new("audit_entry"),
        new("audit_outcome"),
        new("audit_mark"),
    ];
}

/// <summary>One table of an archive, with what is asked of it.</summary>
/// <param name="name">Its name.</param>
internal sealed class ArchivedTable(string name)
{
    /// <summary>Gives the numbers that the database gives itself; only SQL Server has to be told that there are higher ones now.</summary>
    public const string ReseedSql = """
        IF EXISTS (SELECT 1 FROM sys.identity_columns WHERE object_id = OBJECT_ID(@table)) DBCC CHECKIDENT (@table, RESEED)
        """;

    /// <summary>Names and types of a table's columns.</summary>
    public static readonly Sql ColumnsSql = new(
        Sqlite: "SELECT name AS Name, type AS Type FROM pragma_table_info(@table) ORDER BY cid",
        SqlServer: "SELECT COLUMN_NAME AS Name, DATA_TYPE AS Type FROM INFORMATION_SCHEMA.COLUMNS WHERE TABLE_NAME = @table ORDER BY ORDINAL_POSITION");

    /// <summary>Name.</summary>
    public string Name { get; } = name;

    /// <summary>Every row, with every column by its name.</summary>
    public string SelectSql { get; } = $"SELECT * FROM \"{name}\"";

    /// <summary>How many rows there are.</summary>
    public string CountSql { get; } = $"SELECT count(*) FROM \"{name}\"";

    /// <summary>Empties the table.</summary>
    public string EmptySql { get; } = $"DELETE FROM \"{name}\"";
}
