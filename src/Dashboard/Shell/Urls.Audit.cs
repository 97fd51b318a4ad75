using Washwear.Dashboard.Audit;

namespace Washwear.Dashboard.Shell;

/// <summary>Links to the audit.</summary>
public static partial class Urls
{
    /// <summary>The page of the audit.</summary>
    public const string AuditRoute = "/audit";

    /// <summary>The page of the audit.</summary>
    /// <param name="filter">What the reader asked for; null: everything.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string Audit(AuditFilter? filter = null, string? after = null) => Query(AuditRoute, [.. AuditPairs(filter), ("after", after)]);

    /// <summary>The audit as comma-separated values.</summary>
    /// <param name="filter">What the reader asked for.</param>
    /// <returns>The address.</returns>
    public static string AuditCsv(AuditFilter filter) => Query("/v1/audit", [.. AuditPairs(filter), ("format", "csv")]);

    private static (string Name, string? Value)[] AuditPairs(AuditFilter? filter) => filter is null
        ? []
        :
        [
            ("from", Instant(filter.From)), ("to", Instant(filter.To)), ("caller", filter.Caller), ("action", filter.Action), ("about", filter.About),
        ];
}
