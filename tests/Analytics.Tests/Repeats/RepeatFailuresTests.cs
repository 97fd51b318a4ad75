using CsCheck;
using Washwear.Analytics.Repeats;

namespace Washwear.Analytics.Tests.Repeats;

public sealed class RepeatFailuresTests
{
    private const long Day = 86_400_000;
    private const int Pump = 1, Valve = 2, NotClean = 40;

    /// <summary>
    /// expected.json, spares.poisson_binomial_fleet: twelve parts with their chances. Here they are twelve repairs of one unit, a hundred
    /// days apart, of which so many come back.
    /// </summary>
    [Fact]
    public void The_chance_of_so_many_repeats_is_the_published_tail()
    {
        PublishedCheck check = PublishedChecks.Get("spares.poisson_binomial_fleet");
        double[] chances = [.. check.Value("unit_probabilities").EnumerateArray().Select(p => p.GetDouble())];
        double[] exactly = [.. check.Value("probabilities").EnumerateArray().Select(p => p.GetDouble())];
        RepairDone[] repairs = [.. chances.Select((_, i) => Repair(i * 100))];
        RepeatModel model = RepeatModel.None with { ChanceWithinDays = (repair, _) => chances[(int)(repair.AtMs / Day / 100)] };
        for (int back = 0; back <= 12; back++)
        {
            FailureSeen[] failures = [.. repairs.Take(back).Select(r => new FailureSeen(1, r.AtMs + (30 * Day), Pump))];
            RepeatPlaceTest place = Assert.Single(RepeatFailures.Find(repairs, failures, model).Places);
            Assert.Equal((12, back), (place.Repairs, place.CameBack));
            double wanted = exactly.Skip(back).Sum();
            Assert.Equal(wanted, place.PValue!.Value, 1e-6 * wanted);
            check.AssertClose(place.Expected, "mean");
        }
    }

    [Theory]
    [InlineData(90, 1)]
    [InlineData(90.01, 0)]
    [InlineData(0, 0)]
    public void A_failure_within_the_window_after_the_repair_is_a_repeat(double failedAtDay, int repeats) =>
        Assert.Equal(repeats, Find([Repair(0)], [Failure(failedAtDay, Pump)]).Repeats.Count);

    [Fact]
    public void Another_unit_or_position_is_none()
    {
        Assert.Empty(Find([Repair(0)], [Failure(5, Valve), Failure(5, Pump) with { Unit = 2 }, Failure(5, null)]).Repeats);
    }

    [Fact]
    public void The_first_failure_alone_counts_and_belongs_to_the_latest_repair()
    {
        RepeatResult found = Find([Repair(0), Repair(31)], [Failure(30, Pump), Failure(35, Pump), Failure(60, Pump)]);
        Assert.Equal([(0, 0, 30.0), (1, 1, 4.0)], found.Repeats.Select(r => (r.Repair, r.Failure, r.Days)));
    }

    [Fact]
    public void A_part_swapped_unfailed_ends_the_watch()
    {
        RepairDone swapped = Repair(0) with { LeftUnfailedAtMs = 20 * Day };
        RepeatModel model = RepeatModel.None with { ChanceWithinDays = (_, days) => days / 1000 };
        RepeatResult found = RepeatFailures.Find([swapped], [Failure(50, Pump)], model);
        Assert.Empty(found.Repeats);
        Assert.Equal(0.02, Assert.Single(found.Places).Expected!.Value, 12);
        RepeatResult mendedAgain = RepeatFailures.Find([Repair(0), Repair(20)], [Failure(50, Pump)], model);
        Assert.Equal(0.02 + 0.09, Assert.Single(mendedAgain.Places).Expected!.Value, 12);
        Assert.Equal(1, mendedAgain.Places[0].CameBack);
    }

    [Fact]
    public void What_is_expected_covers_the_time_that_could_be_watched_not_the_time_to_the_failure()
    {
        RepeatModel model = RepeatModel.None with { ChanceWithinDays = (_, days) => days / 1000 };
        RepairDone recent = Repair(0) with { WatchedToMs = 40 * Day };
        Assert.Equal(0.04, RepeatFailures.Find([recent], [Failure(10, Pump)], model).Places[0].Expected!.Value, 12);
        RepeatGroup group = Assert.Single(RepeatFailures.Find([recent, Repair(0) with { Unit = 2 }], [Failure(10, Pump)], model).Groups);
        Assert.Equal((2, 1, 1, 0), (group.Repairs, group.CameBack, group.WholeWindow, group.CameBackOfWhole));
        Assert.Equal(1 / 0.13, group.Ratio!.Value, 9);
    }

    [Fact]
    public void A_visit_that_changed_two_parts_for_one_fault_is_one_try_at_the_fault()
    {
        RepairDone pump = Repair(0) with { Code = NotClean }, valve = pump with { Position = Valve };
        RepeatResult found = Find([pump, valve], [Failure(30, Valve, NotClean)]);
        RepeatPlaceTest fault = Assert.Single(found.Places, p => p.Of == RepeatOf.Code);
        Assert.Equal((1, 1), (fault.Repairs, fault.CameBack));
        Repeat repeat = Assert.Single(found.Repeats);
        Assert.Equal((1, true, true), (repeat.Repair, repeat.SamePosition, repeat.SameCode));
    }

    /// <summary>1 - exp(-(1 + 1/2) / (90 + 30) x 90): the two other units were watched 90 and 30 days and one came back.</summary>
    [Fact]
    public void Without_a_life_model_the_other_units_stand_in()
    {
        RepairDone[] repairs = [Repair(0), Repair(0) with { Unit = 2 }, Repair(0) with { Unit = 3 }];
        RepeatResult found = Find(repairs, [Failure(30, Pump) with { Unit = 3 }, Failure(50, Pump)]);
        RepeatPlaceTest first = found.Places.Single(p => p.Unit == 1);
        Assert.Equal(1 - Math.Exp(-1.5 / 120 * 90), first.Expected!.Value, 9);
        Assert.Equal(first.Expected.Value, first.PValue!.Value, 9);
        Assert.Null(Find([Repair(0)], [Failure(30, Pump)]).Places[0].PValue);
        Assert.Null(found.Groups[0].Expected);
        Assert.Contains(found.Doubts, d => d.Contains("without a life model", StringComparison.Ordinal));
    }

    [Fact]
    public void A_repair_of_just_now_is_left_out_and_counted()
    {
        RepeatResult found = Find([Repair(0) with { WatchedToMs = 0 }], []);
        Assert.Equal(1, found.NotWatched);
        Assert.Empty(found.Places);
        Assert.Single(found.Doubts);
        Assert.Single(Find([], []).Doubts);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(double.NaN)]
    [InlineData(4000.0)]
    public void An_impossible_window_is_refused(double days) => Assert.Throws<ArgumentOutOfRangeException>(
        () => RepeatFailures.Find([], [], RepeatModel.None, new RepeatOptions(days)));

    [Fact]
    public void A_chance_that_is_none_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(
        () => RepeatFailures.Find([Repair(0)], [], RepeatModel.None with { ChanceWithinDays = (_, _) => double.NaN }));

    [Fact]
    public void Order_of_the_input_does_not_matter() => Drawn.Each(
        Gen.Select(
            Gen.Select(Gen.Int[1, 4], Gen.Int[1, 2], Gen.Int[0, 400], Gen.Int[0, 3], (unit, position, day, code) => Repair(day) with { Unit = unit, Position = position, Code = code == 0 ? null : code }).Array[0, 20],
            Gen.Select(Gen.Int[1, 4], Gen.Int[0, 2], Gen.Int[0, 400], Gen.Int[0, 3], (unit, position, day, code) => Failure(day + 0.5, position == 0 ? null : position, code == 0 ? null : code) with { Unit = unit }).Array[0, 20],
            Gen.Int),
        300,
        drawn =>
        {
            (RepairDone[] repairs, FailureSeen[] failures, int seed) = drawn;
            RepairDone[] otherRepairs = [.. repairs.Distinct()];
            FailureSeen[] otherFailures = [.. failures.Distinct()];
            RepeatResult one = Find([.. otherRepairs], [.. otherFailures]);
            string[] before = [.. one.Repeats.Select(r => $"{otherRepairs[r.Repair]} {otherFailures[r.Failure]} {r.Kind} {r.ExpectedChance:R}").Order(StringComparer.Ordinal)];
            new Random(seed).Shuffle(otherRepairs);
            new Random(seed).Shuffle(otherFailures);
            RepeatResult other = Find(otherRepairs, otherFailures);
            Assert.Equal(one.Places, other.Places);
            Assert.Equal(one.Groups, other.Groups);
            Assert.Equal(before, other.Repeats.Select(r => $"{otherRepairs[r.Repair]} {otherFailures[r.Failure]} {r.Kind} {r.ExpectedChance:R}").Order(StringComparer.Ordinal));
            Assert.All(one.Places, p => Assert.True(p.PValue is null or (>= 0 and <= 1) && p.CameBack <= p.Repairs));
        });

    private static RepeatResult Find(RepairDone[] repairs, FailureSeen[] failures) => RepeatFailures.Find(repairs, failures, RepeatModel.None);

    private static RepairDone Repair(double day) => new(1, Pump, (long)(day * Day), 5000 * Day);

    private static FailureSeen Failure(double day, int? position, int? code = null) => new(1, (long)(day * Day), position, code);
}
