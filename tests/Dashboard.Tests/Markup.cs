using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests;

/// <summary>Renders pages as the server does and parses them as a browser does.</summary>
public static class Markup
{
    public static async Task<string> RenderAsync(Type page, object report, PageContext context)
    {
        await using ServiceProvider services = new ServiceCollection().AddLogging().BuildServiceProvider();
        await using var renderer = new HtmlRenderer(services, services.GetRequiredService<ILoggerFactory>());
        return await renderer.Dispatcher.InvokeAsync(async () =>
        {
            var parameters = ParameterView.FromDictionary(new Dictionary<string, object?> { ["Report"] = report, ["Context"] = context });
            return (await renderer.RenderComponentAsync(page, parameters)).ToHtmlString();
        });
    }

    public static async Task<IHtmlDocument> ParseAsync(Type page, object report, PageContext context) =>
        new HtmlParser().ParseDocument(await RenderAsync(page, report, context));
}
