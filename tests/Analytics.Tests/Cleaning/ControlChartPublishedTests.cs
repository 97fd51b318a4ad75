using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Tests.Reference;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>All control_chart.* checks of expected.json; the sources stand there with each.</summary>
public sealed class ControlChartPublishedTests
{
    [Fact]
    public void Every_published_chart_has_its_test_here() => Assert.Equal(10, PublishedChecks.Ids("control_chart.").Count);

    [Fact]
    public void Tabular_sums_follow_the_worked_example()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.cusum_tabular_nist");
        double[] x = check.Rows.Numbers("mean");
        (double target, double h) = (Number(check.Inputs, "target"), Number(check.Inputs, "h"));

        CusumPath path = TabularCusum.Path(x, target, Number(check.Inputs, "k"));

        // The data are given to two decimals, so a sum that is 0 by hand may be some 1e-14: the check's 1e-9 for zeros covers that.
        check.AssertAllClose(path.High, "high");
        check.AssertAllClose(path.Low, "low");
        Assert.Equal(Whole(check, "signals_high"), CusumPath.Above(path.High, h));
        Assert.Equal(Whole(check, "signals_low"), CusumPath.Above(path.Low, h));
        Assert.Equal(check.Value("first_signal").GetInt32(), CusumPath.Above(path.High, h)[0]);
    }

    [Fact]
    public void Moving_average_follows_the_worked_example()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.ewma_nist");
        (double target, double s) = (Number(check.Inputs, "target"), Number(check.Inputs, "s"));
        (double lambda, double limit) = (Number(check.Inputs, "lambda"), Number(check.Inputs, "L"));

        IReadOnlyList<double> z = MovingAverageChart.Path(check.Rows.Numbers("value"), target, lambda);
        double half = MovingAverageChart.HalfWidth(s, lambda, limit);
        double[] exact = [.. Enumerable.Range(1, z.Count).Select(i => MovingAverageChart.HalfWidth(s, lambda, limit, i))];

        check.AssertAllClose(z, "z");
        check.AssertClose(target - half, "lower");
        check.AssertClose(target + half, "upper");
        check.AssertAllClose(exact.Select(e => target - e), "exact_lower");
        check.AssertAllClose(exact.Select(e => target + e), "exact_upper");
        Assert.Equal(Whole(check, "signals_asymptotic"), Enumerable.Range(1, z.Count).Where(i => Math.Abs(z[i - 1] - target) > half));
        Assert.Equal(Whole(check, "signals_exact"), Enumerable.Range(1, z.Count).Where(i => Math.Abs(z[i - 1] - target) > exact[i - 1]));
    }

    [Fact]
    public void Run_lengths_of_the_sums_are_exact()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.cusum_run_length");
        foreach (JsonElement design in check.Expected.EnumerateArray())
        {
            (double k, double h) = (Number(design, "k"), Number(design, "h"));
            foreach (JsonElement e in design.GetProperty("run_lengths").EnumerateArray())
            {
                double shift = Number(e, "shift");
                string what = $"k={k} h={h} shift={shift} ";
                double exact = TabularCusum.RunLength(k, h, shift);
                check.AssertClose(e.GetProperty("one_sided"), exact, what + "one-sided");
                if (e.GetProperty("one_sided_down").ValueKind == JsonValueKind.Number)
                {
                    check.AssertClose(e.GetProperty("one_sided_down"), TabularCusum.RunLength(k, h, -shift), what + "down");
                }

                check.AssertClose(e.GetProperty("two_sided"), TabularCusum.RunLengthTwoSided(k, h, shift), what + "two-sided");
                check.AssertClose(e.GetProperty("one_sided_head_start_half_h"), TabularCusum.RunLength(k, h, shift, h / 2), what + "head start");
                check.AssertClose(e.GetProperty("siegmund_one_sided"), TabularCusum.SiegmundRunLength(k, h, shift), what + "Siegmund");

                // A second way: the chain agrees with its own published value, and tends to the exact one.
                double chain = CleaningRunLengthChain.OneSided(k, h, shift, 100);
                check.AssertClose(e.GetProperty("markov_chain_100_states"), chain, what + "chain");
                Assert.InRange(chain / exact, 0.998, 1.002);
            }
        }
    }

    [Fact]
    public void The_limit_by_design_gives_back_its_run_length()
    {
        // The textbook pairs of expected.json: k = 1/2 with h = 4 has 167.68 between false alarms of both sides, h = 5 has 465.44.
        Assert.Equal(4, TabularCusum.LimitTwoSided(0.5, 167.6837888), 6);
        Assert.Equal(5, TabularCusum.LimitTwoSided(0.5, 465.443506), 6);
    }

    [Fact]
    public void Three_sigma_proportion_chart_follows_the_worked_example()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.p_chart_nist");

        ProportionChartResult chart =
            ProportionChart.ThreeSigma([.. check.Rows.Numbers("defects").Select(d => (int)d)], check.Inputs.GetProperty("n").GetInt32());

        check.AssertClose(chart.Centre, "centre");
        check.AssertClose(chart.Lower, "lower");
        check.AssertClose(chart.Upper, "upper");
        Assert.Equal(Whole(check, "signals"), chart.Signals);
    }

    [Fact]
    public void Probability_limits_have_their_true_false_alarm_chance()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.p_chart_probability_limits");
        foreach (JsonElement e in check.Expected.EnumerateArray())
        {
            (int n, double p) = (e.GetProperty("washes").GetInt32(), Number(e, "p0"));
            CountLimits limits = ProportionChart.ProbabilityLimits(n, p, Number(check.Inputs, "alpha"));
            int threeSigma = (int)Math.Floor(Number(e, "three_sigma_upper_count")) + 1;

            Assert.Equal(e.GetProperty("signal_at_or_above").GetInt32(), limits.SignalAtOrAbove);
            check.AssertClose(e.GetProperty("false_alarm_upper"), limits.FalseAlarmUpper, $"{n} {p} upper");
            check.AssertClose(e.GetProperty("signal_at_or_below"), limits.SignalAtOrBelow, $"{n} {p} below");
            check.AssertClose(e.GetProperty("false_alarm_lower"), limits.FalseAlarmLower, $"{n} {p} lower");
            check.AssertClose(
                e.GetProperty("next_lower_count_would_have"), ProportionChart.AtLeast(limits.SignalAtOrAbove - 1, n, p), $"{n} {p} next");
            check.AssertClose(e.GetProperty("false_alarm_three_sigma"), ProportionChart.AtLeast(threeSigma, n, p), $"{n} {p} three sigma");
            check.AssertClose(e.GetProperty("power_at_3_p0"), ProportionChart.AtLeast(limits.SignalAtOrAbove, n, 3 * p), $"{n} {p} power");
        }
    }

    [Fact]
    public void Gap_limits_agree()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.gap_chart_limits");
        foreach ((JsonElement e, JsonElement input) in check.Expected.EnumerateArray().Zip(
            check.Inputs.GetProperty("cases_p0_r_alpha").EnumerateArray()))
        {
            (double p, int r) = (input[0].GetDouble(), input[1].GetInt32());
            GapLimits limits = GapChart.Limits(p, r, input[2].GetDouble());
            string what = $"{p} {r} ";

            check.AssertClose(e.GetProperty("mean"), limits.Mean, what + "mean");
            check.AssertClose(e.GetProperty("worse_at_or_below"), limits.WorseAtOrBelow, what + "worse");
            check.AssertClose(e.GetProperty("false_alarm_worse"), limits.FalseAlarmWorse, what + "worse chance");
            check.AssertClose(e.GetProperty("better_at_or_above"), limits.BetterAtOrAbove, what + "better");
            check.AssertClose(e.GetProperty("false_alarm_better"), limits.FalseAlarmBetter, what + "better chance");
            check.AssertClose(e.GetProperty("mean_washes_to_false_alarm"), limits.MeanWashesToFalseAlarm, what + "between");
            check.AssertClose(
                e.GetProperty("power_at_3_p0"),
                limits.WorseAtOrBelow is { } worse ? ProportionChart.AtLeast(r, worse, 3 * p) : null,
                what + "power");
        }
    }

    [Fact]
    public void Bernoulli_reference_values_agree()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.bernoulli_cusum_reference");
        foreach (JsonElement e in check.Expected.EnumerateArray())
        {
            (double p0, double p1) = (Number(e, "p0"), Number(e, "p1"));
            double gamma = BernoulliCusum.ReferenceValue(p0, p1);
            int m = (int)Math.Round(1 / gamma);

            check.AssertClose(e.GetProperty("gamma"), gamma, $"{p0} {p1} gamma");
            Assert.Equal(e.GetProperty("m_nearest").GetInt32(), m);
            check.AssertClose(e.GetProperty("p1_for_m"), BernoulliCusum.WorseShareFor(p0, m), $"{p0} {p1} p1 for m");
        }
    }

    [Fact]
    public void Bernoulli_designs_and_their_exact_run_lengths_agree()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.bernoulli_cusum_run_length");
        double wanted = Number(check.Inputs, "wanted_in_control");
        foreach (JsonElement e in check.Value("designs").EnumerateArray())
        {
            (double p0, int m) = (Number(e, "p0"), e.GetProperty("m").GetInt32());
            BernoulliDesign design = BernoulliCusum.Design(p0, Number(e, "p1_for_m"), wanted);
            int limit = design.LimitUnits;
            void Same(string name, double actual) => check.AssertClose(e.GetProperty(name), actual, $"{p0} {name}");

            Assert.Equal((m, e.GetProperty("H_units").GetInt32()), (design.StepsPerBadWash, limit));
            Same("p1_for_m", design.WorseShare);
            Same("h", (double)limit / m);
            Same("arl_in_control", design.WashesToFalseAlarm);
            Same("false_alarms_per_unit_year_one_wash_a_day", design.FalseAlarmsPerYear(365.25));
            Same("arl_at_p1", design.WashesToSignalWhenWorse);
            Same("arl_one_unit_less", BernoulliCusum.RunLength(m, limit - 1, p0));
            Same("arl_at_2_p0", BernoulliCusum.RunLength(m, limit, 2 * p0));
            Same("arl_at_3_p0", BernoulliCusum.RunLength(m, limit, 3 * p0));
            Same("arl_at_5_p0", BernoulliCusum.RunLength(m, limit, 5 * p0));
            Same("arl_in_control_head_start", BernoulliCusum.RunLength(m, limit, p0, limit / 2));
            Same("arl_at_3_p0_head_start", BernoulliCusum.RunLength(m, limit, 3 * p0, limit / 2));
        }

        foreach (JsonElement e in check.Value("fixed").EnumerateArray())
        {
            double arl = BernoulliCusum.RunLength(e.GetProperty("m").GetInt32(), e.GetProperty("H").GetInt32(), Number(e, "p"));
            check.AssertClose(e.GetProperty("arl"), arl, e.ToString());
        }
    }

    [Fact]
    public void Run_lengths_of_a_falling_moving_average_are_exact()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.ewma_falling_duration");
        double[] shifts = [.. check.Inputs.GetProperty("shifts").EnumerateArray().Select(s => s.GetDouble())];
        double[] drifts = [.. check.Inputs.GetProperty("thetas").EnumerateArray().Select(s => s.GetDouble())];
        foreach (JsonElement e in check.Expected.EnumerateArray())
        {
            (double lambda, double limit) = (Number(e, "lambda"), Number(e, "L"));
            void Same(string name, IEnumerable<double> actual)
            {
                foreach ((JsonElement wanted, double got) in e.GetProperty(name).EnumerateArray().Zip(actual))
                {
                    check.AssertClose(wanted, got, $"lambda={lambda} {name}");
                }
            }

            Same("reflected", shifts.Select(s => MovingAverageChart.FallingRunLength(lambda, limit, s)));
            Same("free", shifts.Select(s => MovingAverageChart.FallingRunLengthUnreflected(lambda, limit, s)));
            Same("drift_reflected", drifts.Select(d => MovingAverageChart.FallingRunLengthUnderDrift(lambda, limit, d)));
            double designed = MovingAverageChart.FallingLimit(lambda, 730.5);
            check.AssertClose(e.GetProperty("reflected_limit_for_730.5"), designed, "limit");
            check.AssertClose(e.GetProperty("with_that_limit_shift_1"), MovingAverageChart.FallingRunLength(lambda, designed, 1), "shift 1");
            check.AssertClose(
                e.GetProperty("with_that_limit_drift_0.02"), MovingAverageChart.FallingRunLengthUnderDrift(lambda, designed, 0.02), "drift");
        }
    }

    [Fact]
    public void Run_lengths_of_the_two_sided_moving_average_are_exact()
    {
        PublishedCheck check = PublishedChecks.Get("control_chart.ewma_two_sided_run_length");
        double[] shifts = [.. check.Inputs.GetProperty("shifts").EnumerateArray().Select(s => s.GetDouble())];
        foreach (JsonElement e in check.Expected.EnumerateArray())
        {
            foreach ((JsonElement wanted, double shift) in e.GetProperty("arl").EnumerateArray().Zip(shifts))
            {
                check.AssertClose(wanted, MovingAverageChart.TwoSidedRunLength(Number(e, "lambda"), Number(e, "L"), shift), $"shift {shift}");
            }
        }
    }

    private static double Number(JsonElement element, string name) => element.GetProperty(name).GetDouble();

    private static int[] Whole(PublishedCheck check, string name) => [.. check.Value(name).EnumerateArray().Select(e => e.GetInt32())];
}
