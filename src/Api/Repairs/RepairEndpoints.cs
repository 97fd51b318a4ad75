using Washwear.Analytics.Repairs;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Repairs;

/// <summary>Addresses of repairs: delays and quality.</summary>
public static class RepairEndpoints
{
    private const int LongestWindowDays = 1100;

    private static readonly CsvColumn<DelayRow>[] DelayColumns =
    [
        new("code", row => row.Code),
        new("name", row => row.Name),
        new("lockouts", row => row.Lockouts),
        new("hours", row => row.Hours),
        .. Enum.GetValues<DelaySort>().Select(sort => new CsvColumn<DelayRow>("hours_" + Json.Name(sort.ToString()), row => row.Of(sort))),
        .. Enum.GetValues<DelayKind>().Select(kind => new CsvColumn<DelayRow>("hours_" + Json.Name(kind.ToString()), row => row.Of(kind))),
    ];

    /// <summary>Registers the feature.</summary>
    /// <param name="services">The services.</param>
    public static void AddRepairs(this IServiceCollection services)
    {
        services.AddSingleton<RepairQueries>();
        services.AddSingleton<DelayReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapRepairs(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder api = routes.MapGroup("/v1/repairs").RequireAbility(Abilities.Read).WithTags("Repairs");
        api.MapGet("/delays", DelaysAsync)
            .ProducesList<DelaysReport>()
            .WithSummary("Where the time of lockouts went")
            .WithDescription(
                "Time from a fault that locks out washing raised to cleared, over the last ?days (90), split into administrative (nobody asked, waiting for "
                + "an approval), logistic (technician, part) and technical (being worked on); the parts add up. ?by is operator, site, model, region or code.");
        routes.MapGet(Urls.DelayChartRoute, DelayChartAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
    }

    private static async Task<IResult> DelaysAsync(
        HttpContext context, DelayReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        (CleaningFilter filter, string by, int days, ProblemResult? problem) = Asked(context);
        if (problem is not null)
        {
            return problem;
        }

        DelaysReport report = await reports.AssembleAsync(filter, by, days, clock.GetUtcNow(), cancellationToken);
        return Formats.Report(context, report, report.Rows, null, DelayColumns);
    }

    private static async Task<IResult> DelayChartAsync(
        string format, HttpContext context, DelayReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        (CleaningFilter filter, string by, int days, ProblemResult? problem) = Asked(context);
        return problem is not null
            ? problem
            : Pages.Picture(DelayChart.Of(await reports.AssembleAsync(filter, by, days, clock.GetUtcNow(), cancellationToken)), format);
    }

    private static (CleaningFilter Filter, string By, int Days, ProblemResult? Problem) Asked(HttpContext context)
    {
        var query = new Query(context.Request.Query);
        CleaningFilter filter = Place(query);
        string by = query.OneOf("by", DelayReports.GroupingCodes) ?? DelayReports.GroupingCodes[0];
        int days = query.Whole("days", DelayReports.UsualDays, 1, LongestWindowDays);
        return (filter, by, days, query.Problem);
    }

    private static CleaningFilter Place(Query query) => CleaningFilter.All with
    {
        Operator = query.Text("operator"),
        Region = query.Text("region"),
        Site = query.Text("site"),
        Model = query.Text("model"),
        Unit = query.Text("unit"),
    };
}
