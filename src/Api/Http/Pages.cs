using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Http;

/// <summary>Answers with pages and charts.</summary>
/// <param name="settings">The settings.</param>
/// <param name="forms">Keeps forms safe.</param>
public sealed class Pages(Settings settings, IAntiforgery forms)
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
            settings.InventedData);
        return new RazorComponentResult<TPage>(new Dictionary<string, object?> { ["Report"] = report, ["Context"] = page })
        {
            StatusCode = status,
            ContentType = HtmlType,
        };
    }

    /// <summary>A page that says why another cannot be shown.</summary>
    /// <param name="context">The request.</param>
    /// <param name="kind">Kind of thing that was not found, such as unit.</param>
    /// <param name="code">The code asked for.</param>
    /// <param name="asOf">The instant.</param>
    public IResult NotFound(HttpContext context, string kind, string code, DateTimeOffset asOf) => Of<ProblemPage>(
        context,
        new ProblemReport(404, "Not found", $"There is no {kind} '{code}'.", "Look for it in the list; codes are compared without case.", null),
        asOf,
        StatusCodes.Status404NotFound);

    /// <summary>A chart as a picture.</summary>
    /// <param name="chart">The chart.</param>
    /// <param name="format">svg or png.</param>
    public static IResult Picture(Chart chart, string format) => format switch
    {
        "svg" => Results.Text(ChartImage.SvgFile(chart), SvgType),
        "png" => Results.Bytes(ChartImage.PngFile(chart), PngType),
        _ => Problems.Invalid("format", "choice", $"'{format}' is not a form of a chart.", "End the address in .svg or .png."),
    };
}
