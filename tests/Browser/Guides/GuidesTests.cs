using Microsoft.Playwright;

namespace Washwear.Browser.Guides;

/// <summary>Each guide is done, step by step, on the invented fleet: one that no longer fits the screens fails.</summary>
public sealed class GuidesTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private const int FewestSteps = 12;

    // On which screen each guide is read: a technician stands in a cellar with a phone.
    private static readonly Dictionary<string, int> Screens = new()
    {
        ["technician"] = 390,
        ["service-manager"] = 1280,
        ["operator"] = 1280,
        ["planner"] = 1280,
    };

    public static TheoryData<string> Names => [.. Screens.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task A_guide_leads_a_reader_through_its_task(string name)
    {
        Guide guide = Guide.Read(name);
        await using IBrowserContext session = await fleet.OpenAsync(Screens[name]);
        IPage page = await session.NewPageAsync();
        var reader = new GuideReader(page, fleet.Address);
        foreach (GuideStep step in guide.Steps)
        {
            await reader.DoAsync(step);
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_guide_tells_its_reader_what_its_steps_do_and_begins_with_the_first_command(string name)
    {
        Guide guide = Guide.Read(name);

        Assert.Contains("dotnet run --project src/Api -- demo", guide.Text, StringComparison.Ordinal);
        Assert.Equal("start", guide.Steps[0].Verb);
        Assert.True(guide.Steps.Count >= FewestSteps, $"only {guide.Steps.Count} steps");
        string[] untold = [.. guide.Steps.SelectMany(step => step.Asked.Where(word => !step.Told.Contains(Guide.Plain(word), StringComparison.Ordinal)).Select(word => $"{step}: the reader is not told \"{word}\""))];
        Assert.True(untold.Length == 0, string.Join('\n', untold));
    }

    [Fact]
    public void Every_guide_for_a_reader_is_done()
    {
        string[] written = [.. Directory.EnumerateFiles(Guide.Folder, "*.md").Select(file => Path.GetFileNameWithoutExtension(file)).Where(name => name != "api")];

        Assert.Equal(Screens.Keys.Order(StringComparer.Ordinal), written.Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("<!-- step: shout \"Visit sheet\" -->")]
    [InlineData("<!-- step: follow Visit sheet -->")]
    [InlineData("<!-- another remark -->")]
    public void A_mark_that_cannot_be_read_is_told(string line) => Assert.Throws<FormatException>(() => Guide.Of("1. Go on\n" + line));

    [Theory]
    [InlineData("<!-- step: follow \"A page that is not there\" -->")]
    [InlineData("<!-- step: see \"Words that nobody wrote\" -->")]
    public async Task A_step_that_the_screen_does_not_show_fails(string line)
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        var reader = new GuideReader(page, fleet.Address);
        await reader.DoAsync(Guide.Of("<!-- step: start -->").Steps[0]);

        InvalidOperationException trouble = await Assert.ThrowsAsync<InvalidOperationException>(() => reader.DoAsync(Guide.Of(line).Steps[0]));

        Assert.Contains("cannot be done at", trouble.Message, StringComparison.Ordinal);
    }
}
