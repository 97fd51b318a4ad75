using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

/// <summary>The units of the registry, found by a simple search.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Search">What was searched for in asset tag, serial number and site; null: nothing, so all units.</param>
/// <param name="Total">Units that match, on this page and the ones after it.</param>
/// <param name="Rows">The units of this page, by asset tag.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record UnitListReport(
    Basis Basis,
    string? Search,
    int Total,
    IReadOnlyList<UnitListRow> Rows,
    string? Next);

/// <summary>One unit in the list.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Serial">Serial number, if known.</param>
/// <param name="Model">Code of the model.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="State">The worst state now over the rules that apply; null if no rule applies.</param>
/// <param name="LastHeardAt">When the unit last reported anything; null if never.</param>
public sealed record UnitListRow(
    string Unit,
    string? Serial,
    string Model,
    string Site,
    string SiteName,
    string OperatorName,
    string TimeZone,
    CleaningState? State,
    DateTimeOffset? LastHeardAt);
