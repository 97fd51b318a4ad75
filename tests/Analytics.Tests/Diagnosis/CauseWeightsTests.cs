using CsCheck;
using Washwear.Analytics.Diagnosis;
using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.Diagnosis;

public sealed class CauseWeightsTests
{
    private static readonly CataloguedCause[] Catalogue =
    [
        new("wash-pump", "weak-flow", "impeller worn", 6), new("suction-hose", "torn", "split", 3), new("spray-arm", "blocked", "debris", 1),
    ];

    private static readonly CauseOptions NoOther = new(SomethingElseWeight: 0);

    [Fact]
    public void Without_visits_and_lives_the_catalogue_speaks()
    {
        CauseWeighing weighing = CauseWeights.Weigh(Catalogue, [], [], CauseOptions.Usual);
        Assert.Equal([6 / 10.5, 3 / 10.5, 1 / 10.5, 0.5 / 10.5], weighing.Probabilities, Close);
        Assert.All(weighing.Causes, cause => Assert.Null(cause.FleetShare));
        Assert.Null(weighing.Causes[^1].Catalogued);
        Assert.Equal(10.5, weighing.PriorWeight);
    }

    /// <summary>
    /// By hand: prior 6, 3, 1; two proven pumps, one unproven hose (a half), one proven finding outside the catalogue. Counts 2, 0.5, 0, 1
    /// of 3.5; shares 8, 3.5, 1, 1 of 13.5.
    /// </summary>
    [Fact]
    public void Visits_add_to_the_catalogue_by_hand()
    {
        CauseWeighing weighing = CauseWeights.Weigh(
            Catalogue,
            [
                Visit(true, Found("WASH-pump")), Visit(true, Found("wash-pump", "weak-flow")), Visit(false, Found("suction-hose", "torn")),
                Visit(true, Found("door-gasket")), Visit(true),
            ],
            [], NoOther);
        Assert.Equal([8 / 13.5, 3.5 / 13.5, 1 / 13.5, 1 / 13.5], weighing.Probabilities, Close);
        Assert.Equal([2 / 3.5, 0.5 / 3.5, 0, 1 / 3.5], weighing.Causes.Select(cause => cause.FleetShare!.Value), Close);
        Assert.Equal([0.6, 0.3, 0.1, 0], weighing.Causes.Select(cause => cause.CatalogueShare), Close);
        Assert.Equal((4, 1, 1, 1), (weighing.Visits, weighing.UnprovenVisits, weighing.OutsideCatalogue, weighing.VisitsWithoutFinding));
    }

    /// <summary>A finding of the position alone is shared 2 : 1 as the catalogue has it; a second finding takes half of the visit.</summary>
    [Fact]
    public void A_visit_counts_once_whatever_it_found()
    {
        CataloguedCause[] drain = [new("drain-valve", "slow", "scale", 2), new("drain-valve", "blocked", "debris", 1), new("hose", null, null, 3)];
        CauseWeighing weighing = CauseWeights.Weigh(
            drain, [Visit(true, Found("drain-valve"), Found("hose", "torn"), Found("door-gasket"))], [], CauseOptions.Usual);
        Assert.Equal([1 / 3.0, 1 / 6.0, 0.5, 0], weighing.Causes.Select(cause => cause.FleetVisits), Close);
    }

    [Fact]
    public void A_contradicting_mode_or_reason_names_another_cause()
    {
        Assert.True(new CauseFinding("wash-pump", null, "Impeller worn ").Names(Catalogue[0]));
        Assert.False(new CauseFinding("wash-pump", "seized").Names(Catalogue[0]));
        Assert.False(new CauseFinding("wash-pump", "weak-flow", "debris").Names(Catalogue[0]));
    }

    /// <summary>Shape 2, scale 100: the hazard at 50 is 2/100 x 0.5 = 0.01, twice a mean of 0.005. By hand: 12, 3, 1 of 16.</summary>
    [Fact]
    public void The_age_of_the_fitted_part_weighs_its_causes_by_hand()
    {
        PartHazard pump = new(new Weibull(100, 2), 50, 0.005);
        CauseWeighing weighing = CauseWeights.Weigh(Catalogue, [], [pump, null, null], NoOther);
        Assert.Equal([12 / 16.0, 3 / 16.0, 1 / 16.0, 0], weighing.Probabilities, Close);
        Assert.Equal([2, 1, 1, 1], weighing.Causes.Select(cause => cause.HazardFactor), Close);
        Assert.Equal(0.6, weighing.Causes[0].ShareBeforeAge, 1e-12);
        CauseWeighing faster = CauseWeights.Weigh(Catalogue, [], [pump with { Pace = 1.5 }, null, null], NoOther);
        Assert.Equal(3, faster.Causes[0].HazardFactor, 1e-12);
    }

    [Theory]
    [InlineData(2.0, 0.0, 0.1)]
    [InlineData(0.5, 0.0, 10.0)]
    [InlineData(6.0, 1e6, 10.0)]
    [InlineData(300.0, 1e6, 10.0)]
    public void The_factor_stays_within_its_limit(double shape, double age, double expected)
    {
        WeighedCause pump = CauseWeights.Weigh(Catalogue, [], [new(new Weibull(100, shape), age, 0.01), null, null], CauseOptions.Usual).Causes[0];
        Assert.Equal(expected, pump.HazardFactor, 1e-12);
        Assert.True(pump.HazardFactorCut);
    }

    /// <summary>At the maximum of the likelihood the curve expects as many failures as there were: 4 in 10 + 20 + 30 + 38 + 40 - 5.</summary>
    [Fact]
    public void The_mean_hazard_of_a_fleet_is_its_failures_over_the_time_watched()
    {
        Lives lives = new LivesBuilder("days").FailedAt(10).FailedAt(20, 5).FailedAt(30).FailedAt(38).StillRunningAt(40).Build();
        FittedLife fit = Assert.IsType<FittedLife>(WeibullFit.Fit(lives, new WeibullFitOptions()));
        Assert.Equal(4 / 133.0, PartHazard.OfFleet(fit.Curve, lives)!.Value, 1e-9);
        Assert.Null(PartHazard.OfFleet(fit.Curve, new LivesBuilder("days").Build()));
    }

    /// <summary>
    /// Two positions that fail by a known curve each, units of all ages: among units of one age, the share of failures by the first must be
    /// the probability that is said from the fleet's counts and that age.
    /// </summary>
    [Fact]
    public void Fleet_counts_times_hazard_foretell_the_cause_at_an_age()
    {
        Weibull pump = new(900, 2.5);
        Weibull valve = new(1500, 1.2);
        var random = new Random(5);
        var failures = new List<(bool IsPump, double Age)>();
        double[] watched = new double[2];
        double[] hazard = new double[2];
        for (int unit = 0; unit < 400_000; unit++)
        {
            double pumpLife = pump.Scale * Math.Pow(-Math.Log(1 - random.NextDouble()), 1 / pump.Shape);
            double valveLife = valve.Scale * Math.Pow(-Math.Log(1 - random.NextDouble()), 1 / valve.Shape);
            double end = Math.Min(Math.Min(pumpLife, valveLife), 1200);
            watched[0] += end;
            hazard[0] += pump.CumulativeHazardAt(end);
            hazard[1] += valve.CumulativeHazardAt(end);
            if (end < 1200)
            {
                failures.Add((pumpLife < valveLife, end));
            }
        }

        CataloguedCause[] two = [new("pump", null, null, 1), new("valve", null, null, 1)];
        VisitEvidence[] visits = [.. failures.Select(failure => Visit(true, Found(failure.IsPump ? "pump" : "valve")))];
        foreach (double age in new[] { 200.0, 500, 900 })
        {
            PartHazard[] parts = [new(pump, age, hazard[0] / watched[0]), new(valve, age, hazard[1] / watched[0])];
            double said = CauseWeights.Weigh(two, visits, parts, NoOther).Probabilities[0];
            (bool IsPump, double)[] near = [.. failures.Where(failure => Math.Abs(failure.Age - age) < 10)];
            double happened = near.Average(failure => failure.IsPump ? 1.0 : 0);
            Assert.Equal(happened, said, 4 * Math.Sqrt(said * (1 - said) / near.Length));
        }
    }

    [Fact]
    public void Odd_input_gives_probabilities_all_the_same()
    {
        Assert.Equal([1], CauseWeights.Weigh([], [], [], CauseOptions.Usual).Probabilities);
        Assert.Equal([1], CauseWeights.Weigh([], [Visit(true, Found("x"))], [], NoOther).Probabilities);
        CataloguedCause[] zero = [new("a", null, null, 0), new("b", null, null, 0)];
        Assert.Equal([1 / 3.0, 1 / 3.0, 1 / 3.0], CauseWeights.Weigh(zero, [], [], NoOther).Probabilities, Close);
        Assert.Equal([0, 0, 1], CauseWeights.Weigh(zero, [], [], CauseOptions.Usual).Probabilities, Close);
        Assert.Equal([0.5, 0, 0.5], CauseWeights.Weigh(zero, [Visit(false, Found("a"))], [], CauseOptions.Usual).Probabilities, Close);
    }

    [Fact]
    public void Impossible_input_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => CauseWeights.Weigh([new("a", null, null, -1)], [], [], CauseOptions.Usual));
        Assert.Throws<ArgumentOutOfRangeException>(() => CauseWeights.Weigh([new("a", null, null, double.NaN)], [], [], CauseOptions.Usual));
        Assert.Throws<ArgumentException>(() => CauseWeights.Weigh(Catalogue, [], [null], CauseOptions.Usual));
        Assert.Throws<ArgumentOutOfRangeException>(() => CauseWeights.Weigh(Catalogue, [], [], new CauseOptions(HazardLimit: 0.5)));
        PartHazard noFleet = new(new Weibull(1, 1), 1, 0);
        Assert.Throws<ArgumentOutOfRangeException>(() => CauseWeights.Weigh(Catalogue, [], [noFleet, null, null], CauseOptions.Usual));
    }

    [Fact]
    public void Probabilities_add_to_one_and_the_parts_of_the_sum_explain_them() => Drawn.Each(
        Gen.Select(Gen.Double[0, 20].Array[4], Gen.Int[0, 5].Array[0, 30], Gen.Double[0, 5000].Array[4]), 500, drawn =>
        {
            (double[] weights, int[] found, double[] ages) = drawn;
            CataloguedCause[] causes = [.. weights.Select((weight, i) => new CataloguedCause($"p{i}", null, null, weight))];
            VisitEvidence[] visits = [.. found.Select((position, i) => Visit(i % 3 != 0, Found($"p{position}")))];
            PartHazard[] parts = [.. ages.Select((age, i) => new PartHazard(new Weibull(1000, 0.5 + i), age, 0.001))];
            CauseWeighing weighing = CauseWeights.Weigh(causes, visits, parts, CauseOptions.Usual);
            Assert.Equal(1, weighing.Probabilities.Sum(), 1e-12);
            Assert.Equal(visits.Sum(visit => visit.Proven ? 1 : 0.5), weighing.Causes.Sum(cause => cause.FleetVisits), 1e-9);
            double scale = weighing.Causes.Sum(cause => cause.ShareBeforeAge * cause.HazardFactor);
            Assert.All(weighing.Causes, cause => Assert.Equal(cause.ShareBeforeAge * cause.HazardFactor / scale, cause.Probability, 1e-12));
        });

    private static bool Close(double one, double other) => Math.Abs(one - other) < 1e-12;

    private static VisitEvidence Visit(bool proven, params IReadOnlyList<CauseFinding> findings) => new(proven, findings);

    private static CauseFinding Found(string position, string? mode = null) => new(position, mode);
}
