using System.Buffers.Binary;
using System.Globalization;
using System.Xml.Linq;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>Every chart of the invented fleet, on its page and at its own address.</summary>
public sealed class FigureTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    // What carries no meaning by its shade: the grid; a band, whose edges are drawn; a day, which has an edge and a letter.
    private const string Quiet = "paper|grid|fitted-band|day-by-hand|day-short|day-stopped|day-refused|day-none|day-silent|day-free";

    [Fact]
    public async Task Each_route_of_charts_is_linked_from_a_page_and_gives_words_real_text_and_a_sharp_picture()
    {
        FleetWalk walk = await fleet.WalkAsync();
        string[] charts = [.. walk.Routes.Where(FleetWalk.IsChart)];
        Assert.True(charts.Length >= 10);
        Assert.All(charts, route => Assert.True(walk.Found.ContainsKey(route), route + " is linked from no page"));
        foreach (string address in charts.SelectMany(route => walk.Found[route]))
        {
            using HttpResponseMessage answer = await fleet.GetAsync(address);
            Assert.True(answer.IsSuccessStatusCode, address);
            byte[] body = await answer.Content.ReadAsByteArrayAsync();
            switch (Path.GetExtension(address.Split('?')[0]))
            {
                case ".svg":
                    AssertDrawing(XElement.Parse(System.Text.Encoding.UTF8.GetString(body)), address);
                    break;
                case ".png":
                    Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], body[..4]);
                    XElement drawing = XElement.Parse(await fleet.ReadAsync(address.Replace(".png", ".svg", StringComparison.Ordinal)));
                    Assert.Equal(2 * int.Parse((string)drawing.Attribute("width")!, CultureInfo.InvariantCulture), BinaryPrimitives.ReadInt32BigEndian(body.AsSpan(16, 4)));
                    break;
                default:
                    Assert.True(System.Text.Encoding.UTF8.GetString(body).Split("\r\n").Length > 2, address);
                    break;
            }
        }
    }

    [Fact]
    public async Task Each_figure_says_its_sentence_to_those_who_cannot_see_it_and_has_its_numbers_picture_and_file()
    {
        foreach (string address in await FiguredAsync())
        {
            await using IBrowserContext session = await fleet.OpenAsync(script: false);
            IPage page = await session.NewPageAsync();
            await page.GotoAsync(new Uri(fleet.Address, address).ToString());
            foreach (ILocator figure in await page.Locator(".figure").AllAsync())
            {
                string sentence = Plain((await figure.Locator("figcaption").TextContentAsync())!).Trim();
                Assert.All(await figure.Locator("desc").AllTextContentsAsync(), desc => Assert.Equal(sentence, desc.Trim()));
                Assert.Equal(2, await figure.Locator("desc").CountAsync());
                Assert.True(await figure.Locator("details table tbody tr").CountAsync() > 0, address);
                string[] files = await figure.Locator(".figure-links a").EvaluateAllAsync<string[]>("links => links.map(link => link.getAttribute('href'))");
                Assert.Contains(files, file => file.Contains(".svg", StringComparison.Ordinal));
                Assert.Contains(files, file => file.Contains(".png", StringComparison.Ordinal));
                string numbers = Assert.Single(files, file => file.Contains("csv", StringComparison.Ordinal));
                using HttpResponseMessage answer = await fleet.GetAsync(numbers);
                Assert.Equal("text/csv", answer.Content.Headers.ContentType?.MediaType);
            }
        }
    }

    [Theory]
    [InlineData(false, "rgb(252, 253, 251)")]
    [InlineData(true, "rgb(19, 27, 25)")]
    public async Task A_picture_that_stands_alone_is_light_or_dark_as_its_reader_prefers(bool dark, string paper)
    {
        await using IBrowserContext session = await fleet.OpenAsync(dark: dark);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/charts/units/OVEN-0001/washes.svg").ToString());
        Assert.Equal(paper, await page.EvaluateAsync<string>("() => getComputedStyle(document.querySelector('rect.fill-paper')).fill"));
    }

    [Theory]
    [InlineData(390)]
    [InlineData(768)]
    [InlineData(1280)]
    public async Task Text_in_charts_is_never_smaller_than_11_pixels(int width)
    {
        await using IBrowserContext session = await fleet.OpenAsync(width);
        IPage page = await session.NewPageAsync();
        foreach (string address in await FiguredAsync())
        {
            await page.GotoAsync(new Uri(fleet.Address, address).ToString());
            string[] small = await page.EvaluateAsync<string[]>(
                """
                () => Array.from(document.querySelectorAll('.figure svg.chart'))
                  .filter(svg => svg.getClientRects().length > 0)
                  .flatMap(svg => Array.from(svg.querySelectorAll('text'), text => [text.textContent, parseFloat(text.getAttribute('font-size')) * svg.getScreenCTM().a]))
                  .filter(([, size]) => !(size >= 11)).map(([text, size]) => text + ' at ' + size)
                """);
            Assert.True(small.Length == 0, address + ": " + string.Join(", ", small.Take(5)));
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task What_is_drawn_stands_out_from_the_ground_of_the_page_three_to_one_and_text_four_and_a_half(bool dark)
    {
        await using IBrowserContext session = await fleet.OpenAsync(dark: dark);
        IPage page = await session.NewPageAsync();
        foreach (string address in await FiguredAsync())
        {
            await page.GotoAsync(new Uri(fleet.Address, address).ToString());
            string[] faint = await page.EvaluateAsync<string[]>(
                """
                quiet => {
                  const channel = value => value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
                  const luminance = colour => {
                    const [r, g, b] = colour.match(/[\d.]+/g).map(Number);
                    return 0.2126 * channel(r / 255) + 0.7152 * channel(g / 255) + 0.0722 * channel(b / 255);
                  };
                  const ratio = (one, other) => (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
                  const ground = luminance(getComputedStyle(document.body).backgroundColor);
                  const still = new RegExp('^(fill|line)-(' + quiet + ')$');
                  const faint = new Set();
                  for (const part of document.querySelectorAll('.figure svg.chart-wide *')) {
                    for (const kind of ['fill', 'line']) {
                      const name = Array.from(part.classList).find(one => one.startsWith(kind + '-'));
                      if (!name || still.test(name) || name === 'fill-day-letter' || (part.localName === 'text' && name === 'fill-paper')) continue;
                      const found = ratio(luminance(getComputedStyle(part)[kind === 'fill' ? 'fill' : 'stroke']), ground);
                      if (found < (part.localName === 'text' ? 4.5 : 3)) faint.add(part.localName + ' ' + name + ' ' + found.toFixed(2));
                    }
                  }
                  return Array.from(faint);
                }
                """,
                Quiet);
            Assert.True(faint.Length == 0, address + ": " + string.Join(", ", faint));
        }
    }

    [Theory]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task Values_are_read_by_pointing_and_by_keys(int width)
    {
        foreach (string address in await FiguredAsync())
        {
            await using IBrowserContext session = await fleet.OpenAsync(width);
            IPage page = await session.NewPageAsync();
            await page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
            await page.GotoAsync(new Uri(fleet.Address, address).ToString());
            foreach (ILocator figure in await page.Locator(".figure:visible").AllAsync())
            {
                ILocator slider = figure.Locator("input.value-slider");
                ILocator words = figure.Locator(".value-words");
                await slider.FocusAsync();
                await page.Keyboard.PressAsync("End");
                string last = Plain(await words.InnerTextAsync());
                Assert.Equal(last, await slider.GetAttributeAsync("aria-valuetext"));
                Assert.Matches("[0-9]", last);
                ILocator drawn = figure.Locator("svg.chart:visible");
                Assert.Equal(1, await drawn.Locator(".value-ring").CountAsync());
                ILocator first = drawn.Locator(".values circle").First;
                float[] at = await first.EvaluateAsync<float[]>(
                    """
                    circle => {
                      const svg = circle.ownerSVGElement;
                      svg.scrollIntoView({ behavior: 'instant', block: 'center' });
                      const point = new DOMPoint(circle.cx.baseVal.value, circle.cy.baseVal.value).matrixTransform(svg.getScreenCTM());
                      return [point.x, point.y];
                    }
                    """);
                await page.Mouse.MoveAsync(at[0], at[1]);
                Assert.Equal(await first.GetAttributeAsync("data-words"), Plain(await words.InnerTextAsync()));
            }
        }
    }

    // A page keeps numbers and units on one line, a drawing has no lines.
    private static string Plain(string shown) => shown.Replace('\u00A0', ' ');

    private static void AssertDrawing(XElement svg, string address)
    {
        Assert.False(string.IsNullOrWhiteSpace(svg.Element(Svg + "title")?.Value), address);
        Assert.False(string.IsNullOrWhiteSpace(svg.Element(Svg + "desc")?.Value), address);
        Assert.Equal("img", (string?)svg.Attribute("role"));
        Assert.True(svg.Descendants(Svg + "text").Count(text => text.Value.Length > 0) >= 3, address + " has no real text");
        Assert.Empty(svg.Descendants(Svg + "image"));
    }

    // One page of each route that shows charts is enough: others draw the same with other numbers.
    private async Task<IReadOnlyList<string>> FiguredAsync()
    {
        FleetWalk walk = await fleet.WalkAsync();
        var figured = new List<string>();
        foreach (string address in walk.Found.Select(pair => pair.Value[0]).Where(walk.Pages.Contains).Concat(fleet.Extra))
        {
            if ((await fleet.ReadAsync(address)).Contains("class=\"figure\"", StringComparison.Ordinal))
            {
                figured.Add(address);
            }
        }

        Assert.True(figured.Count >= 6, string.Join(", ", figured));
        return figured;
    }
}
