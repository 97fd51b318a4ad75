using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>What a rule may count, over HTTP; figures are worked by hand, in hours from 1 March 2026, 00:00 UTC.</summary>
public sealed class RuleBasesTests
{
    private const string Descale = """ "scope":{},"grade":"descale","grace_hours":10 """;

    [Fact]
    public async Task Rolling_hours_count_from_the_end_of_the_last_wash()
    {
        await using OneOven oven = await OneOven.StartAsync(Hour(75));
        await oven.RuleAsync("r", """ "scope":{},"grade":"standard","grace_hours":2,"every_hours":24 """);
        await WashAsync(oven, "standard", 20, 50);

        // The gap of 20 h owes one wash and keeps it; that of 30 h is longer than 24 + 2: late, overdue from hour 46 to 50.
        Assert.Equal("1/2 in_order=71 nobody_started=4", OneOven.Figures(await TotalAsync(oven, 75)));
        Assert.Equal("a standard wash or higher every 24 h, 2 h grace", await WordsAsync(oven));
    }

    [Fact]
    public async Task Other_washes_count_whatever_their_grade()
    {
        await using OneOven oven = await OneOven.StartAsync(Hour(100));
        await oven.RuleAsync("r", Descale + ""","every_washes":3""");
        await WashAsync(oven, "standard", 10, 20);
        await WashAsync(oven, "intensive", 30, 50, 60, 70);
        await WashAsync(oven, "descale", 45, 75);

        // The third wash ends at hour 30: late at 45, overdue from 40. The next third one ends at 70: kept at 75.
        Assert.Equal("1/2 in_order=95 nobody_started=5", OneOven.Figures(await TotalAsync(oven, 100)));
        Assert.Equal("a descale after every 3 other washes, 10 h grace", await WordsAsync(oven));
    }

    [Fact]
    public async Task Operating_hours_count_by_the_meter_readings()
    {
        await using OneOven oven = await OneOven.StartAsync(Hour(100));
        await oven.RuleAsync("r", Descale + ""","every_operating_hours":100""");
        await MeterAsync(oven, (5, 1000), (40, 1080), (60, 1120), (70, 1200), (80, 1230));
        await WashAsync(oven, "descale", 65);

        // 120 h at the reading of hour 60, kept at 65; 110 h more at the reading of hour 80, overdue from 90.
        Assert.Equal("1/2 in_order=90 nobody_started=10", OneOven.Figures(await TotalAsync(oven, 100)));
        Assert.Equal("a descale after every 100 operating hours, 10 h grace", await WordsAsync(oven));
    }

    [Theory]
    [InlineData(120.0, "after every 5 other washes, 10 h grace, for water of 120 mg/L", 0, 0)]
    [InlineData(130.0, "after every 3 other washes, 10 h grace, for water of 130 mg/L", 1, 0)]
    [InlineData(null, "after every 3 other washes, 10 h grace, the strictest step because nobody has measured the water's hardness", 1, 1)]
    public async Task Hard_water_asks_for_descaling_after_fewer_washes(double? hardness, string words, int due, int doubts)
    {
        await using OneOven oven = await OneOven.StartAsync(Hour(100), hardness);
        await oven.RuleAsync("r", Descale + ""","every_washes_by_hardness":[{"up_to_mg_per_l":120,"washes":5},{"washes":3}]""");
        await WashAsync(oven, "standard", 10, 20, 30, 40);

        JsonElement total = await TotalAsync(oven, 100);

        Assert.Equal(due, total.GetProperty("due").GetInt32());
        Assert.Equal("a descale " + words, await WordsAsync(oven));
        JsonElement status = await oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status");
        Assert.Equal(doubts, status.GetProperty("basis").GetProperty("doubts").GetArrayLength());
    }

    [Theory]
    [InlineData("""{"every_hours":24,"every_washes":3}""", "every_hours exactly_one")]
    [InlineData("{}", "every_trading_days exactly_one")]
    [InlineData("""{"every_washes":0}""", "every_washes range")]
    [InlineData("""{"every_operating_hours":0}""", "every_operating_hours range")]
    [InlineData("""{"every_washes_by_hardness":[]}""", "every_washes_by_hardness required")]
    [InlineData("""{"every_washes_by_hardness":[{"up_to_mg_per_l":100,"washes":5}]}""", "every_washes_by_hardness[0].up_to_mg_per_l last_is_open")]
    [InlineData("""{"every_washes_by_hardness":[{"washes":5},{"washes":4}]}""", "every_washes_by_hardness[0].up_to_mg_per_l last_is_open")]
    [InlineData(
        """{"every_washes_by_hardness":[{"up_to_mg_per_l":100,"washes":5},{"up_to_mg_per_l":90,"washes":5},{"washes":3}]}""",
        "every_washes_by_hardness[1].up_to_mg_per_l order")]
    public async Task An_interval_that_makes_no_sense_is_refused(string interval, string problem)
    {
        await using OneOven oven = await OneOven.StartAsync(Hour(1));
        string rest = """{"scope":{},"grade":"descale","grace_hours":1,"basis":"b" """;
        using HttpResponseMessage answer = await Registry.Samples.PutAsync(
            oven.Host.Admin, "/v1/rules/r", rest + (interval == "{}" ? "}" : "," + interval[1..]));
        await ProblemAssert.ListsAsync(answer, problem);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    private static string Hour(int hour) => OneOven.At("2026-03-01T00:00:00Z").AddHours(hour).ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture);

    private static async Task WashAsync(OneOven oven, string grade, params int[] ends)
    {
        foreach (int end in ends)
        {
            await oven.WashAsync(grade, Hour(end - 1), Hour(end));
        }
    }

    private static Task MeterAsync(OneOven oven, params (int Hour, int Reading)[] readings) => oven.SendAsync(
        [.. readings.Select(one => $$"""{"type":"meter","at":"{{Hour(one.Hour)}}","operating_hours_total":{{one.Reading}}}""")]);

    private static async Task<JsonElement> TotalAsync(OneOven oven, int hours) =>
        (await oven.ComplianceAsync(Hour(0), Hour(hours))).GetProperty("total");

    private static async Task<string?> WordsAsync(OneOven oven) => (await oven.StatusAsync())["r"].GetProperty("rule_text").GetString();
}
