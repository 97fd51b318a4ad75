using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class LivesTests
{
    [Fact]
    public void Counts_name_what_came_in()
    {
        Lives lives = new LivesBuilder("washes")
            .FailedAt(10).FailedAt(20, enteredAt: 5, mode: "seal").FailedBetween(3, 8, mode: "motor")
            .StillRunningAt(30, enteredAt: 2).SwappedEarlyAt(12)
            .Exclude("fitting date unknown").Exclude("meter missing", 4).Exclude("fitting date unknown")
            .Build();
        Assert.Equal("washes", lives.Clock);
        Assert.Equal((5, 3, 2, 1, 2), (lives.Count, lives.Failures, lives.Censored, lives.FailedBetweenLooks, lives.EnteredLate));
        Assert.Equal([new Exclusion("meter missing", 4), new Exclusion("fitting date unknown", 2)], lives.Excluded);
        Assert.Equal(6, lives.ExcludedCount);
        Assert.Equal(["seal", "motor"], lives.Modes);
        Assert.Equal(30, lives.OldestAge);
    }

    [Theory]
    [InlineData(0, 0, "age")]
    [InlineData(-1, 0, "age")]
    [InlineData(double.NaN, 0, "age")]
    [InlineData(double.PositiveInfinity, 0, "age")]
    [InlineData(5, -1, "enteredAt")]
    [InlineData(5, double.NaN, "enteredAt")]
    [InlineData(5, 5, "enteredAt")]
    [InlineData(5, 6, "enteredAt")]
    public void A_life_that_cannot_be_is_refused_with_its_field_and_nothing_is_added(double age, double enteredAt, string field)
    {
        var builder = new LivesBuilder("days");
        Assert.Equal(field, Assert.Throws<LifeRefusedException>(() => builder.FailedAt(age, enteredAt)).Field);
        Assert.Equal(field, Assert.Throws<LifeRefusedException>(() => builder.StillRunningAt(age, enteredAt)).Field);
        Assert.Equal(field, Assert.Throws<LifeRefusedException>(() => builder.SwappedEarlyAt(age, enteredAt)).Field);
        Assert.Equal(0, builder.Build().Count);
        Assert.Equal(field, LifeRules.WhyRefused(age, enteredAt)!.Value.Field);
    }

    [Theory]
    [InlineData(-1, 5, 0, "lastSeenWorking")]
    [InlineData(5, 5, 0, "lastSeenWorking")]
    [InlineData(6, 5, 0, "lastSeenWorking")]
    [InlineData(1, 0, 0, "age")]
    [InlineData(1, 5, 5, "enteredAt")]
    public void Looks_that_cannot_be_are_refused(double working, double failed, double enteredAt, string field) => Assert.Equal(
        field, Assert.Throws<LifeRefusedException>(() => new LivesBuilder("days").FailedBetween(working, failed, enteredAt)).Field);

    [Fact]
    public void A_look_before_the_entry_is_cut_at_the_entry()
    {
        Lives cut = new LivesBuilder("days").FailedBetween(2, 9, enteredAt: 4).FailedAt(5).FailedAt(7).StillRunningAt(20).Build();
        Lives given = new LivesBuilder("days").FailedBetween(4, 9, enteredAt: 4).FailedAt(5).FailedAt(7).StillRunningAt(20).Build();
        Assert.Equal(WeibullFitTests.Fitted(given).LogLikelihood, WeibullFitTests.Fitted(cut).LogLikelihood);
    }

    [Fact]
    public void One_mode_sees_the_others_as_censored()
    {
        Lives lives = new LivesBuilder("days")
            .FailedAt(10, mode: "seal").FailedAt(12, mode: "motor").FailedAt(14)
            .FailedBetween(3, 8, mode: "motor").FailedBetween(0, 6, mode: "motor").StillRunningAt(30).Build();
        Lives seal = lives.ForMode("seal");
        Assert.Equal((1, 4), (seal.Failures, seal.Censored));
        Assert.Equal("failed of another mode before the first look", Assert.Single(seal.Excluded).Reason);
        Assert.Equal((3, 3), (lives.ForMode("motor").Failures, lives.ForMode("motor").Censored));
        Assert.Throws<ArgumentException>(() => lives.ForMode("gasket"));
    }

    [Fact]
    public void Survivors_to_an_age_are_those_known_to_have_reached_it()
    {
        Lives lives = new LivesBuilder("days")
            .FailedAt(5).FailedAt(15, mode: "seal").StillRunningAt(9).StillRunningAt(30, enteredAt: 20)
            .FailedBetween(8, 12).FailedBetween(11, 12).Build();
        Lives reached = lives.SurvivingTo(10);
        Assert.Equal((2, 1, 3), (reached.Failures, reached.Censored, reached.EnteredLate));
        Assert.Equal(["seal"], reached.Modes);
        Assert.Equal(1, reached.ExcludedCount);
    }
}
