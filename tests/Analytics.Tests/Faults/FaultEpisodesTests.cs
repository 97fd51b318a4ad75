using CsCheck;
using Washwear.Analytics.Faults;

namespace Washwear.Analytics.Tests.Faults;

/// <summary>The rule is the project's own, so the cases are by hand, in hours.</summary>
public sealed class FaultEpisodesTests
{
    private const long Hour = 3_600_000;

    private static readonly Gen<RaisedFault[]> Faults = Gen
        .Select(Gen.Int[1, 3], Gen.Int[1, 3], Gen.Int[0, 500], Gen.Int[-5, 60], Gen.Bool, (unit, code, at, stood, locks) =>
            new RaisedFault(unit, code, at * Hour, stood < 0 ? null : (at + stood) * Hour, locks))
        .Array[0, 40];

    private static readonly Gen<UnitRepair[]> Repairs =
        Gen.Select(Gen.Int[1, 3], Gen.Int[0, 500], (unit, at) => new UnitRepair(unit, at * Hour)).Array[0, 8];

    [Fact]
    public void Faults_within_the_gap_of_the_end_are_one_trouble_and_the_gap_counts_from_the_clearing()
    {
        IReadOnlyList<FaultEpisode> episodes = FaultEpisodes.Group([At(0, 10), At(82), At(154), At(226.1)], []);
        Assert.Equal(2, episodes.Count);
        Assert.Equal((3, 0L, 154 * Hour, 2), (episodes[0].Faults, episodes[0].FirstRaisedAtMs, episodes[0].LastEndAtMs, episodes[0].NeverCleared));
        Assert.Equal(1, episodes[1].Faults);
    }

    [Fact]
    public void A_long_standing_fault_holds_the_episode_open_for_those_raised_meanwhile() =>
        Assert.Single(FaultEpisodes.Group([At(0, 200), At(10, 11), At(260)], []));

    [Theory]
    [InlineData(5, 2)] // between the two
    [InlineData(0, 1)] // at the first's raising: it was done for an earlier one
    [InlineData(20, 2)] // at the second's raising
    [InlineData(21, 1)] // after it
    public void A_repair_between_begins_a_new_trouble(int repairedAtHour, int episodes) =>
        Assert.Equal(episodes, FaultEpisodes.Group([At(0, 10), At(20)], [new UnitRepair(1, repairedAtHour * Hour)]).Count);

    [Fact]
    public void Another_units_repair_ends_nothing() =>
        Assert.Single(FaultEpisodes.Group([At(0, 10), At(20)], [new UnitRepair(2, 15 * Hour)]));

    [Fact]
    public void Codes_are_apart_unless_lockouts_are_asked_to_be_one()
    {
        RaisedFault[] faults = [At(0), At(1) with { Code = 8 }, At(2) with { Code = 9, LocksOutWashing = false }];
        Assert.Equal(3, FaultEpisodes.Group(faults, []).Count);
        IReadOnlyList<FaultEpisode> together = FaultEpisodes.Group(faults, [], new EpisodeOptions(AnyLockout: true));
        Assert.Equal(2, together.Count);
        Assert.Equal([7, 8], together[0].Codes);
        Assert.Equal([9], together[1].Codes);
    }

    [Fact]
    public void Nothing_gives_nothing_and_an_impossible_gap_is_refused()
    {
        Assert.Empty(FaultEpisodes.Group([], []));
        Assert.Throws<ArgumentOutOfRangeException>(() => FaultEpisodes.Group([], [], new EpisodeOptions(double.NaN)));
        Assert.Throws<ArgumentOutOfRangeException>(() => FaultEpisodes.Group([], [], new EpisodeOptions(-1)));
    }

    [Fact]
    public void Order_does_not_matter_and_each_fault_is_counted_once() => Drawn.Each(Gen.Select(Faults, Repairs, Gen.Int), 500, drawn =>
    {
        (RaisedFault[] faults, UnitRepair[] repairs, int seed) = drawn;
        RaisedFault[] shuffled = [.. faults];
        UnitRepair[] repaired = [.. repairs];
        new Random(seed).Shuffle(shuffled);
        new Random(seed).Shuffle(repaired);
        foreach (bool any in new[] { false, true })
        {
            IReadOnlyList<FaultEpisode> one = FaultEpisodes.Group(faults, repairs, new EpisodeOptions(24, any));
            Assert.Equal(one.Select(Print), FaultEpisodes.Group(shuffled, repaired, new EpisodeOptions(24, any)).Select(Print));
            Assert.Equal(faults.Length, one.Sum(e => e.Faults));
            Assert.All(one, e => Assert.True(e.FirstRaisedAtMs <= e.LastEndAtMs));
        }
    });

    [Fact]
    public void A_longer_gap_never_gives_more_episodes() => Drawn.Each(Gen.Select(Faults, Repairs, Gen.Double[0, 200], Gen.Double[0, 200]), 500, drawn =>
    {
        (RaisedFault[] faults, UnitRepair[] repairs, double gap, double more) = drawn;
        int shorter = FaultEpisodes.Group(faults, repairs, new EpisodeOptions(gap)).Count;
        Assert.True(FaultEpisodes.Group(faults, repairs, new EpisodeOptions(gap + more)).Count <= shorter);
    });

    private static string Print(FaultEpisode e) =>
        $"{e.Unit} {string.Join(',', e.Codes)} {e.FirstRaisedAtMs} {e.LastEndAtMs} {e.Faults} {e.NeverCleared}";

    private static RaisedFault At(double raised, double? cleared = null) =>
        new(1, 7, (long)(raised * Hour), cleared is { } c ? (long)(c * Hour) : null, true);
}
