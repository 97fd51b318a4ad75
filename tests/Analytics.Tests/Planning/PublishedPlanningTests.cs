namespace Washwear.Analytics.Tests.Planning;

/// <summary>Every check of expected.json about replacement and spares is claimed here, with the class that holds it.</summary>
public sealed class PublishedPlanningTests
{
    public static TheoryData<string, string[]> Claims => new()
    {
        { "age_replacement.", ["age_replacement.cost_curve", "age_replacement.grid"] }, // AgeReplacementTests
        { "conditional_failure.", ["conditional_failure.mean_residual_life", "conditional_failure.next_90_days"] }, // WeibullLifeTests
        {
            "opportunity_replacement.", // OpportunityReplacementTests, CompanionSimulationTests
            [
                "opportunity_replacement.companion_pump_and_hose", "opportunity_replacement.companion_pump_renewals",
                "opportunity_replacement.cost_curve", "opportunity_replacement.grid", "opportunity_replacement.no_wear",
            ]
        },
        {
            "renewal.", // WeibullRenewalTests
            ["renewal.block_replacement", "renewal.periodic_replacement_minimal_repair", "renewal.weibull_renewal_function"]
        },
        {
            "spares.", // DemandDistributionTests, DemandBootstrapTests
            [
                "spares.estimated_parameters", "spares.estimated_parameters_bootstrap",
                "spares.poisson_binomial_fleet", "spares.poisson_binomial_given",
            ]
        },
    };

    [Theory]
    [MemberData(nameof(Claims))]
    public void Every_check_of_a_prefix_is_claimed(string prefix, string[] claimed) => Assert.Equal(claimed, PublishedChecks.Ids(prefix));
}
