namespace Washwear.Api.Storage.Scopes;

/// <summary>Which rows of a table a scope holds.</summary>
internal enum TableReach
{
    /// <summary>All: everybody may read it.</summary>
    Shared,

    /// <summary>None: it is the business of whoever runs the installation.</summary>
    Hidden,

    /// <summary>The table of operators: those of the scope's units, and the scope's own.</summary>
    Operators,

    /// <summary>The table of sites: those of the scope's units, and the scope's own.</summary>
    Sites,

    /// <summary>The table of units: those in the scope.</summary>
    Units,

    /// <summary>Rows whose unit_id is in the scope.</summary>
    OfUnit,

    /// <summary>The same; the rows lie in the order of units, so that those of the scope are found at once.</summary>
    InUnitOrder,

    /// <summary>Rows whose site_id is in the scope with all its units.</summary>
    OfWholeSite,

    /// <summary>Rows whose id holds the number of a unit in its lower 32 bits.</summary>
    OfPeriod,

    /// <summary>Rows whose seq is the record of a unit in the scope.</summary>
    OfRecord,

    /// <summary>Keys that no longer count: what they named, or what took its place, is the record of a unit in the scope.</summary>
    Voided,

    /// <summary>Refused rows that came as JSON and name a unit in the scope; what was not understood belongs to nobody.</summary>
    Refused,

    /// <summary>Whom rules are for: everybody, or something in the scope.</summary>
    RuleReach,

    /// <summary>The table of rules: those that are or were for everybody or for something in the scope.</summary>
    Rules,

    /// <summary>Rows whose rule_id is such a rule.</summary>
    OfRule,
}

/// <summary>A table and what a scope holds of it.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Reach">Which rows.</param>
internal sealed record ScopedTable(string Name, TableReach Reach);

/// <summary>Every table of the database and what a scope holds of it; the only place that says so. A table that is missing here is hidden.</summary>
internal static class ScopedTables
{
    public static readonly IReadOnlyList<ScopedTable> All =
    [
        new("operator", TableReach.Operators),
        new("site", TableReach.Sites),
        new("unit", TableReach.Units),
        new("model", TableReach.Shared),
        new("rule", TableReach.Rules),
        new("rule_version", TableReach.OfRule),
        new("rule_reach", TableReach.RuleReach),
        new("registry_version", TableReach.Shared),

        // What a technician brings and what it costs is told to whom it is brought; what lies in store and what work costs is not.
        new("supplier", TableReach.Shared),
        new("part", TableReach.Shared),
        new("stock_point", TableReach.Hidden),
        new("plan_terms", TableReach.Hidden),

        // A void names no unit and stays hidden; what it did is seen at the record that it voids.
        new("record", TableReach.OfUnit),
        new("wash", TableReach.OfRecord),
        new("fault", TableReach.OfUnit),
        new("fault_cleared", TableReach.OfUnit),
        new("part_change", TableReach.OfUnit),
        new("meter", TableReach.OfUnit),
        new("void", TableReach.OfRecord),
        new("voided", TableReach.Voided),
        new("visit", TableReach.OfRecord),
        new("approval", TableReach.OfRecord),
        new("condition", TableReach.OfRecord),
        new("refused", TableReach.Refused),
        new("visit_photo", TableReach.OfUnit),
        new("equipment_change", TableReach.OfUnit),
        new("equipment_heard", TableReach.OfUnit),
        new("wash_span", TableReach.InUnitOrder),
        new("fault_span", TableReach.InUnitOrder),
        new("part_life", TableReach.InUnitOrder),
        new("unit_status", TableReach.InUnitOrder),
        new("visit_span", TableReach.InUnitOrder),
        new("approval_span", TableReach.InUnitOrder),
        new("cleaning_run", TableReach.InUnitOrder),
        new("cleaning_period", TableReach.OfPeriod),
        new("early_sign", TableReach.InUnitOrder),
        new("wash_month", TableReach.OfUnit),
        new("alert", TableReach.OfUnit),

        // A visit that was given out lists what is done at the whole site.
        new("plan_decision", TableReach.OfUnit),
        new("plan_given", TableReach.OfWholeSite),
        new("plan_forecast", TableReach.Shared),
        new("plan_forecast_part", TableReach.OfUnit),

        new("webhook", TableReach.Hidden),
        new("webhook_message", TableReach.Hidden),
        new("webhook_attempt", TableReach.Hidden),
        new("import_mapping", TableReach.Hidden),
        new("import_sheet", TableReach.Hidden),
        new("import_progress", TableReach.Hidden),
        new("api_key", TableReach.Hidden),
        new("sign_in_link", TableReach.Hidden),
        new("person", TableReach.Hidden),
        new("sign_in_session", TableReach.Hidden),
        new("person_link", TableReach.Hidden),
        new("person_preference", TableReach.Hidden),
        new("view_link", TableReach.Hidden),
        new("request_key", TableReach.Hidden),
        new("cookie_key", TableReach.Hidden),
        new("write_mark", TableReach.Hidden),
        new("projection_kind", TableReach.Hidden),
        new("upkeep_run", TableReach.Hidden),
        new("audit_name", TableReach.Hidden),
        new("audit_entry", TableReach.Hidden),
        new("audit_outcome", TableReach.Hidden),
        new("audit_mark", TableReach.Hidden),
        new("erasure", TableReach.Hidden),
        new("erased_record", TableReach.Hidden),
        new("SchemaVersions", TableReach.Hidden),
    ];
}
