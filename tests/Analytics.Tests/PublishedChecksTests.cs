namespace Washwear.Analytics.Tests;

public sealed class PublishedChecksTests
{
    private const double Shape = 1.720797261;

    [Fact]
    public void A_known_check_is_found_with_its_rows()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.nist_censored");
        Assert.Equal(20, check.Rows.Count);
        Assert.Equal(54, check.Rows.Numbers("hours")[0]);
        Assert.Contains("8.4.1.3", check.Source, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_id_is_an_error() => Assert.Throws<KeyNotFoundException>(() => PublishedChecks.Get("no.such_check"));

    [Fact]
    public void Agreement_within_the_tolerance_passes() =>
        PublishedChecks.Get("weibull_mle.nist_censored").AssertClose(Shape * (1 + 0.9e-6), "shape", "estimate");

    [Theory]
    [InlineData(Shape * (1 + 1.1e-6))]
    [InlineData(double.NaN)]
    [InlineData(null)]
    public void Disagreement_fails(double? actual) => Assert.ThrowsAny<Xunit.Sdk.XunitException>(
        () => PublishedChecks.Get("weibull_mle.nist_censored").AssertClose(actual, "shape", "estimate"));

    [Fact]
    public void A_number_where_the_source_has_none_fails() => Assert.ThrowsAny<Xunit.Sdk.XunitException>(
        () => PublishedChecks.Get("fixed_shape.zero_failures").AssertClose(1.0, "conf_0.50", "scale_mle"));

    [Fact]
    public void Too_few_values_fail() => Assert.ThrowsAny<Xunit.Sdk.XunitException>(
        () => PublishedChecks.Get("kaplan_meier.generator_fans").AssertAllClose([450.0], "time"));

    [Fact]
    public void Missing_cells_are_null_and_refused_where_a_number_is_needed()
    {
        CsvRows rows = CsvRows.Parse("inline", ["a,b", "1,NA", "2,", "# a remark, with commas, is skipped"]);
        Assert.Equal([null, null], rows.NumbersOrMissing("b"));
        Assert.Throws<FormatException>(() => rows.Numbers("b"));
        Assert.Throws<KeyNotFoundException>(() => rows.Text("c"));
    }
}
