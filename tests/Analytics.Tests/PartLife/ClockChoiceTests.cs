using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class ClockChoiceTests
{
    [Theory]
    [InlineData("washes", 49)]
    [InlineData("days", 50)]
    public void The_clock_that_made_the_lives_is_chosen(string truth, int seed)
    {
        const int Trials = 100;
        var random = new Random(seed);
        int right = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            right += ClockChoice.Choose(Drawn(random, truth, 60)).Best == truth ? 1 : 0;
        }

        Assert.True(right >= 95, $"{right} of {Trials} (seed {seed})");
    }

    [Fact]
    public void Without_the_factor_the_unit_alone_would_decide()
    {
        ClockChoiceResult result = ClockChoice.Choose(Drawn(new Random(51), "washes", 60));
        ClockFit days = result.Clocks.Single(c => c.Clock == "days"), hours = result.Clocks.Single(c => c.Clock == "hours");
        Assert.Equal(days.Aic!.Value, hours.Aic!.Value, 1e-6);
        Assert.True(((FittedLife)days.Fit).LogLikelihood - ((FittedLife)hours.Fit).LogLikelihood > 50);
    }

    [Fact]
    public void The_order_does_not_depend_on_the_base()
    {
        var ahead = new MultiClockLivesBuilder("days", "washes");
        var behind = new MultiClockLivesBuilder("washes", "days");
        var random = new Random(52);
        for (int i = 0; i < 25; i++)
        {
            double days = 100 + (900 * random.NextDouble()), washes = days * (0.5 + random.NextDouble());
            _ = i % 3 == 0 ? ahead.StillRunningAt([days, washes]) : ahead.FailedAt([days, washes]);
            _ = i % 3 == 0 ? behind.StillRunningAt([washes, days]) : behind.FailedAt([washes, days]);
        }

        ClockChoiceResult a = ClockChoice.Choose(ahead.Build()), b = ClockChoice.Choose(behind.Build());
        Assert.Equal(a.Best, b.Best);
        Assert.Equal(a.Clocks[1].AicAboveBest!.Value, b.Clocks[1].AicAboveBest!.Value, 1e-8);
    }

    [Fact]
    public void Parts_used_alike_decide_nothing_and_that_is_said()
    {
        var builder = new MultiClockLivesBuilder("days", "washes");
        foreach (double age in new double[] { 100, 200, 250, 400, 700 })
        {
            builder.FailedAt([age, 2 * age]);
        }

        ClockChoiceResult result = ClockChoice.Choose(builder.Build());
        Assert.False(result.Decided);
        Assert.Equal(0, result.Clocks[1].AicAboveBest!.Value, 1e-8);
        Assert.Contains(result.Account.Doubts, d => d.StartsWith("The data do not tell", StringComparison.Ordinal));
    }

    [Fact]
    public void No_failures_choose_no_clock()
    {
        MultiClockLives lives = new MultiClockLivesBuilder("days", "washes").StillRunningAt([5, 9]).Exclude("meter missing").Build();
        ClockChoiceResult result = ClockChoice.Choose(lives);
        Assert.Null(result.Best);
        Assert.False(result.Decided);
        Assert.Equal(1, result.Account.ExcludedCount);
        Assert.All(result.Clocks, c => Assert.IsType<NotEnough>(c.Fit));
    }

    [Fact]
    public void A_life_refused_on_one_clock_is_added_on_none()
    {
        var builder = new MultiClockLivesBuilder("days", "washes");
        Assert.Contains("'washes'", Assert.Throws<LifeRefusedException>(() => builder.FailedAt([5, 0])).Message, StringComparison.Ordinal);
        Assert.Throws<LifeRefusedException>(() => builder.FailedAt([5]));
        Assert.Throws<LifeRefusedException>(() => builder.StillRunningAt([5, 5], [0, 5]));
        Assert.Throws<LifeRefusedException>(() => builder.FailedBetween([1, 7], [5, 7]));
        Assert.Equal(0, builder.Build().OnClock("days").Count);
        Assert.Throws<ArgumentException>(() => builder.Build().OnClock("hours"));
        Assert.Throws<ArgumentException>(() => new MultiClockLivesBuilder("days", "days"));
    }

    /// <summary>Rates of use differ by a factor of about 2 (sd of ln 0.5); a third of the parts is watched from some age on.</summary>
    private static MultiClockLives Drawn(Random random, string truth, int parts)
    {
        var builder = new MultiClockLivesBuilder("days", "washes", "hours");
        var curve = new Weibull(truth == "days" ? 800 : 1000, 2.2);
        for (int i = 0; i < parts;)
        {
            double rate = Math.Exp(0.5 * MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1));
            double life = curve.AgeWhenFailed(1 - random.NextDouble()) / (truth == "days" ? 1 : rate);
            double entry = random.Next(3) == 0 ? 200 * random.NextDouble() : 0;
            if (life > entry)
            {
                double end = Math.Min(life, 1200);
                double[] ages = [end, rate * end, 24 * end], entries = [entry, rate * entry, 24 * entry];
                _ = life <= 1200 ? builder.FailedAt(ages, entries) : builder.StillRunningAt(ages, entries);
                i++;
            }
        }

        return builder.Build();
    }
}
