using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class CompetingRisksTests
{
    [Fact]
    public void The_published_shock_absorbers_are_met()
    {
        PublishedCheck check = PublishedChecks.Get("cumulative_incidence.shock_absorbers");
        IncidenceResult result = CompetingRisks.Incidence(ShockAbsorbers());
        check.AssertAllClose(result.Survival, "overall_survival");
        foreach (string mode in new[] { "mode_1", "mode_2" })
        {
            ModeIncidence incidence = result.Modes.Single(m => m.Mode == mode);
            check.AssertAllClose(incidence.Steps.Select(s => s.Age), "time");
            check.AssertAllClose(incidence.Steps.Select(s => s.Incidence), mode, "incidence");
            check.AssertAllClose(incidence.Steps.Select(s => s.StandardError), mode, "se_delta");
        }
    }

    [Fact]
    public void The_published_wrong_answer_is_one_minus_kaplan_meier()
    {
        PublishedCheck check = PublishedChecks.Get("cumulative_incidence.shock_absorbers");
        SurvivalCurve curve = KaplanMeier.Estimate(ShockAbsorbers().ForMode("mode_1"));
        check.AssertClose(1 - curve.Steps[^1].Survival, "wrong_answer_one_minus_km_mode_1_at_end");
    }

    [Fact]
    public void The_published_melanoma_are_met_with_many_ties()
    {
        PublishedCheck check = PublishedChecks.Get("cumulative_incidence.melanoma");
        CsvRows rows = check.Rows;
        string?[] modes = [.. rows.Text("status").Select(s => s switch { "1" => "mode_1", "3" => "mode_2", _ => null })];
        Lives lives = Moded(rows.Numbers("time"), modes);
        IncidenceResult result = CompetingRisks.Incidence(lives);
        double[] times = [.. check.Inputs.GetProperty("times_days").EnumerateArray().Select(t => t.GetDouble())];
        foreach (string mode in new[] { "mode_1", "mode_2" })
        {
            IReadOnlyList<IncidenceStep> steps = result.Modes.Single(m => m.Mode == mode).Steps;
            check.AssertAllClose(times.Select(t => steps.Last(s => s.Age <= t).Incidence), mode, "incidence");
            check.AssertAllClose(times.Select(t => steps.Last(s => s.Age <= t).StandardError), mode, "se_delta");
        }
    }

    [Theory]
    [InlineData("mode_1")]
    [InlineData("mode_2")]
    public void The_published_curve_of_each_mode_is_met(string mode) => WeibullFitTests.AssertMeets(
        PublishedChecks.Get("weibull_by_mode.shock_absorbers"), ShockAbsorbers().ForMode(mode), mode);

    [Fact]
    public void The_published_curve_that_ignores_modes_is_met() => WeibullFitTests.AssertMeets(
        PublishedChecks.Get("weibull_by_mode.shock_absorbers"), ShockAbsorbers(), "modes_ignored_single_weibull");

    [Fact]
    public void The_published_series_system_is_met()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_by_mode.shock_absorbers");
        var fits = CompetingRisks.FitEachMode(ShockAbsorbers()).ToDictionary(f => f.Mode, f => ((FittedLife)f.Fit).Curve);
        var system = new SeriesSystem([fits["mode_1"], fits["mode_2"]]);
        double[] ages = [.. check.Value("series_system", "time").EnumerateArray().Select(t => t.GetDouble())];
        check.AssertAllClose(ages.Select(system.SurvivalAt), "series_system", "survival");
        check.AssertAllClose(ages.Select(a => system.IncidenceAt(0, a)), "series_system", "incidence_mode_1");
        check.AssertAllClose(ages.Select(a => system.IncidenceAt(1, a)), "series_system", "incidence_mode_2");
    }

    /// <summary>By hand: parts end at 1 (x), 2 (y), 3 (running), 4 (x). F_x = 1/4, then + 1/2 x 1/1 = 3/4; F_y = 3/4 x 1/3 = 1/4.</summary>
    [Fact]
    public void Four_parts_by_hand_and_everything_adds_up_to_one()
    {
        IncidenceResult result = CompetingRisks.Incidence(Moded([1, 2, 3, 4], ["x", "y", null, "x"]));
        Assert.Equal([0.25, 0.25, 0.75], result.Modes[0].Steps.Select(s => s.Incidence));
        Assert.Equal([0, 0.25, 0.25], result.Modes[1].Steps.Select(s => s.Incidence));
        Assert.Equal([0.75, 0.5, 0], result.Survival);
        Assert.Null(result.Modes[1].Steps[0].Lower);
        Assert.True(result.Modes[0].Steps[0].Lower < 0.25 && result.Modes[0].Steps[0].Upper > 0.25);
    }

    [Fact]
    public void Failures_that_name_no_mode_stand_apart()
    {
        Lives lives = new LivesBuilder("days").FailedAt(1, mode: "x").FailedAt(2).StillRunningAt(3).Build();
        IncidenceResult result = CompetingRisks.Incidence(lives);
        Assert.Equal(["x", null], result.Modes.Select(m => m.Mode));
        Assert.Contains(result.Account.Doubts, d => d == "Failures that name no mode are shown apart (1 of 2).");
    }

    /// <summary>By hand: equal shapes k split failures as their hazards: F_1 = a/(a+b) (1 - S), a = scale^-k.</summary>
    [Theory]
    [InlineData(0.5)]
    [InlineData(1)]
    [InlineData(3)]
    public void Equal_shapes_split_failures_by_hand(double shape)
    {
        var system = new SeriesSystem([new Weibull(100, shape), new Weibull(200, shape)]);
        double share = 1 / (1 + Math.Pow(2, -shape));
        Assert.All([1e-3, 50.0, 150, 1e6], t => Assert.Equal(share * (1 - system.SurvivalAt(t)), system.IncidenceAt(0, t), 1e-9));
    }

    /// <summary>Very unlike shapes are hard on the integral: both modes and survival must still add up to 1.</summary>
    [Theory]
    [InlineData(0.3, 6)]
    [InlineData(8, 0.4)]
    [InlineData(1.2, 3.1)]
    public void Incidences_and_survival_add_up_to_one(double first, double second)
    {
        var system = new SeriesSystem([new Weibull(100, first), new Weibull(300, second)]);
        Assert.All(
            [0.0, 1, 50, 100, 300, 1000, 1e9],
            t => Assert.Equal(1, system.SurvivalAt(t) + system.IncidenceAt(0, t) + system.IncidenceAt(1, t), 1e-9));
    }

    private static Lives ShockAbsorbers()
    {
        CsvRows rows = PublishedChecks.Csv("shock_absorbers.csv");
        return Moded(rows.Numbers("km"), [.. rows.Text("mode").Select(m => m == "0" ? null : "mode_" + m)]);
    }

    private static Lives Moded(double[] ages, string?[] modes)
    {
        var builder = new LivesBuilder("km");
        for (int i = 0; i < ages.Length; i++)
        {
            _ = modes[i] is { } mode ? builder.FailedAt(ages[i], mode: mode) : builder.StillRunningAt(ages[i]);
        }

        return builder.Build();
    }
}
