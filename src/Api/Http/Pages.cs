using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;
using Washwear.Api.Accounts;
using Washwear.Api.Security;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Http;

/// <summary>Answers with pages and charts.</summary>
/// <param name="settings">The settings.</param>
/// <param name="forms">Keeps forms safe.</param>
/// <param name="clock">The clock.</param>
public sealed class Pages(Settings settings, IAntiforgery forms, TimeProvider clock)
{
    private const string HtmlType = "text/html; charset=utf-8";
    private const string SvgType = "image/svg+xml";
    private const string PngType = "image/png";

    /// <summary>A page.</summary>
    /// <typeparam name="TPage">The page's component.</typeparam>
    /// <param name="context">The request.</param>
    /// <param name="report">What the page shows.</param>
    /// <param name="asOf">The instant for which it holds.</param>
    /// <param name="status">HTTP status code.</param>
    public IResult Of<TPage>(HttpContext context, object report, DateTimeOffset asOf, int status = StatusCodes.Status200OK)
        where TPage : IComponent
    {
        AntiforgeryTokenSet tokens = forms.GetAndStoreTokens(context);
        context.Response.Headers.CacheControl = "no-store";
        var page = new PageContext(
            asOf,
            context.User.Identity?.IsAuthenticated == true ? context.User.Identity.Name : null,
            tokens.FormFieldName,
            tokens.RequestToken,
            settings.InventedData)
        {
            ShownName = SessionCookie.Of(context)?.ShownName,
            Address = context.Request.Path.ToUriComponent() + context.Request.QueryString.ToUriComponent(),
            MayAdminister = context.User.May(Abilities.Administer),
            MayImport = context.User.May(Abilities.Ingest) && Authentication.ScopeOf(context.User).Kind == ScopeKind.Everything,
            MayPlan = context.User.May(Abilities.Plan),
            Preferences = ReaderRequests.Of(context),
        };
        return new ReadPage(page.Preferences, new RazorComponentResult<TPage>(new Dictionary<string, object?> { ["Report"] = report, ["Context"] = page })
        {
            StatusCode = status,
            ContentType = HtmlType,
        });
    }

    /// <summary>Whether a request comes from a person's browser that wants a page: it reads one, or sends a form of one.</summary>
    /// <param name="request">The request.</param>
    public static bool IsForPerson(HttpRequest request) =>
        (HttpMethods.IsGet(request.Method) || IsForm(request))
        && request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase)
        && !request.Path.StartsWithSegments("/v1", StringComparison.OrdinalIgnoreCase);

    // The request's own test throws where a form lacks its token, which is what has to be told here.
    private static bool IsForm(HttpRequest request) =>
        request.ContentType is { } type
        && (type.StartsWith("application/x-www-form-urlencoded", StringComparison.OrdinalIgnoreCase)
            || type.StartsWith("multipart/form-data", StringComparison.OrdinalIgnoreCase));

    /// <summary>A page that says why another cannot be shown.</summary>
    /// <param name="context">The request.</param>
    /// <param name="problem">Why.</param>
    public IResult Of(HttpContext context, Problem problem) => Of<ProblemPage>(
        context,
        new ProblemReport(
            problem.Status,
            problem.Title,
            problem.Detail,
            string.Join(' ', (problem.Errors ?? []).Select(error => $"{error.Field}: {error.Detail} {error.Mend}")),
            problem.Status >= StatusCodes.Status500InternalServerError ? problem.TraceId : null)
        {
            AskedWrongly = IsAsked(context, problem),
            Kind = Problems.KindOf(problem),
            IsUsual = Problems.IsUsual(problem),
        },
        clock.GetUtcNow(),
        problem.Status);

    // The problem's own words speak of what a program sent; somebody who follows a link has sent nothing.
    private static bool IsAsked(HttpContext context, Problem problem) =>
        HttpMethods.IsGet(context.Request.Method) && problem is { Status: StatusCodes.Status400BadRequest, Errors.Count: > 0 };

    /// <summary>A chart as a picture.</summary>
    /// <param name="chart">The chart.</param>
    /// <param name="format">svg or png.</param>
    public static IResult Picture(Chart chart, string format) => format switch
    {
        "svg" => new Drawing(ChartImage.SvgFile(chart)),
        "png" => Results.Bytes(ChartImage.PngFile(chart), PngType),
        "csv" when chart.Numbers is { } numbers => new NumbersFile(numbers),
        _ => Problems.Invalid(
            "format",
            "choice",
            $"'{format}' is not a form of this chart.",
            chart.Numbers is null ? "End the address in .svg or .png; the numbers are linked beneath the chart on its page." : "End the address in .svg, .png or .csv."),
    };

    /// <summary>The numbers of a chart in the form that the request asks for.</summary>
    private sealed record NumbersFile(ChartNumbers Numbers) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext) => Csv.Result(
            httpContext.Request,
            [.. Numbers.Columns.Select((column, at) => new CsvColumn<object?[]>(column, row => row[at] is double number && !double.IsFinite(number) ? null : row[at]))],
            Numbers.Rows).ExecuteAsync(httpContext);
    }

    /// <summary>A page that is written for its reader, whatever brought it about; its numbers are bound to their units once it is whole.</summary>
    private sealed record ReadPage(ReaderPreferences Reader, IResult Page) : IResult
    {
        public async Task ExecuteAsync(HttpContext httpContext)
        {
            Stream body = httpContext.Response.Body;
            using var whole = new MemoryStream();
            httpContext.Response.Body = whole;
            try
            {
                using (ReaderPreferences.Use(Reader))
                {
                    await Page.ExecuteAsync(httpContext);
                }
            }
            finally
            {
                httpContext.Response.Body = body;
            }

            UnitBinding.Write(whole.GetBuffer().AsSpan(0, (int)whole.Length), httpContext.Response.BodyWriter);
            await httpContext.Response.BodyWriter.FlushAsync(httpContext.RequestAborted);
        }
    }

    // A browser that shows the picture alone holds it to the policy of pages; its own colours are let through, letter by letter.
    private sealed class Drawing(string svg) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            SecurityHeaders.AllowStyle(httpContext, Inks.Css());
            return Results.Text(svg, SvgType).ExecuteAsync(httpContext);
        }
    }
}
