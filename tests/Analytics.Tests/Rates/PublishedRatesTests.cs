namespace Washwear.Analytics.Tests.Rates;

/// <summary>Every check of expected.json about rates is claimed here, with the class that holds the method against it.</summary>
public sealed class PublishedRatesTests
{
    public static TheoryData<string, string[]> Claims => new()
    {
        // PoissonRateTests, PoissonRateTests, RateRatioTests
        { "poisson_exact.", ["poisson_exact.garwood", "poisson_exact.nist_mtbf_interval", "poisson_exact.two_rate_ratio"] },
        { "empirical_bayes.", ["empirical_bayes.power_plant_pumps"] }, // GammaPoissonTests
        { "multiplicity.", ["multiplicity.benjamini_hochberg"] }, // FalseDiscoveryTests
        { "proportion.", ["proportion.compliance_bounds"] }, // ProportionBoundsTests
        { "prediction.", ["prediction.next_period_count"] }, // NextPeriodCountTests
    };

    [Theory]
    [MemberData(nameof(Claims))]
    public void Every_check_of_a_prefix_is_claimed(string prefix, string[] claimed) => Assert.Equal(claimed, PublishedChecks.Ids(prefix));
}
