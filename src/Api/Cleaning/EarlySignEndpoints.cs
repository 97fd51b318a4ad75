using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Cleaning;

/// <summary>Addresses of early signs: the list, and a unit's chart.</summary>
public static class EarlySignEndpoints
{
    /// <summary>Signs that the cleaning page lists.</summary>
    public const int SignsOnAPage = 5;

    private static readonly CsvColumn<UnitSign>[] Columns =
    [
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("operator", row => row.Operator),
        new("operator_name", row => row.OperatorName),
        new("model", row => row.Model),
        new("region", row => row.Region),
        new("time_zone", row => row.TimeZone),
        new("kind", row => row.Sign.Kind),
        new("statistic", row => row.Sign.Statistic),
        new("limit", row => row.Sign.Limit),
        new("since", row => row.Sign.Since),
        new("called_at", row => row.Sign.CalledAt),
        new("washes", row => row.Sign.Washes),
        new("bad_washes", row => row.Sign.BadWashes),
        new("mean_minutes", row => row.Sign.MeanMinutes),
        new("usual_minutes", row => row.Sign.UsualMinutes),
        new("usual_bad_share", row => row.Sign.UsualBadShare),
        new("baseline_washes", row => row.Sign.BaselineWashes),
        new("washes_between_false_alarms", row => row.Sign.WashesBetweenFalseAlarms),
        new("false_alarms_per_year", row => row.Sign.FalseAlarmsPerYear),
        new("sentence", row => row.Sign.Sentence),
    ];

    /// <summary>Registers early signs.</summary>
    /// <param name="services">The services.</param>
    public static void AddEarlySigns(this IServiceCollection services)
    {
        services.AddPerScope<EarlySignQueries>();
        services.AddPerScope<EarlySignReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapEarlySigns(this IEndpointRouteBuilder routes)
    {
        routes.MapGroup("/v1/cleaning").RequireAbility(Abilities.Read).WithTags("Cleaning").MapGet("/early-signs", ListAsync)
            .ProducesList<EarlySignsReport>()
            .WithSummary("Units whose washes are getting worse, before they lock out")
            .WithDescription(
                "One row a unit and sign that stands, newest first: more bad washes (a fault stopped them, or they left detergent), longer or "
                + "shorter washes than the unit's own history, with the chart's sum, its limit and the false-alarm rate that it really has. "
                + "Narrow with ?operator, ?region, ?site, ?model, ?unit; page with ?limit and ?after.");
        routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription().MapGet(Urls.SignChartRoute, ChartAsync);
    }

    private static async Task<IResult> ListAsync(
        HttpContext context, EarlySignReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        var query = new Query(context.Request.Query);
        CleaningFilter filter = CleaningFilter.All with
        {
            Operator = query.Text("operator"),
            Region = query.Text("region"),
            Site = query.Text("site"),
            Model = query.Text("model"),
            Unit = query.Text("unit"),
        };
        EarlySignsReport report = await reports.AssembleAsync(filter, clock.GetUtcNow(), page, cancellationToken);
        return Formats.Report(context, report, report.Rows, report.Next, Columns);
    }

    private static async Task<IResult> ChartAsync(
        string unit, string format, EarlySignReports reports, RegistryCache registry, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (!(await registry.CurrentAsync(cancellationToken)).Units.TryGetValue(unit, out UnitEntry? known))
        {
            return Problems.NotFound("unit", unit);
        }

        SignCharts charts = await reports.ChartsAsync(known, clock.GetUtcNow(), cancellationToken);
        return Pages.Picture(SignChart.Of(known.Resource.Unit, known.Site.Resource.TimeZone, charts), format);
    }
}
