using System.Text.Json;

using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>The life that plans are made from, against expected.json conditional_failure and against numerical integration.</summary>
public sealed class WeibullLifeTests
{
    [Fact]
    public void Chance_of_failure_within_the_next_90_days_is_the_published_one()
    {
        PublishedCheck check = PublishedChecks.Get("conditional_failure.next_90_days");
        double scale = check.Inputs.GetProperty("scale").GetDouble(), window = check.Inputs.GetProperty("window").GetDouble();
        JsonElement[] rows = [.. check.Expected.EnumerateArray()];
        Assert.Equal(18, rows.Length);
        foreach (JsonElement row in rows)
        {
            var life = new WeibullLife(row.GetProperty("shape").GetDouble(), scale);
            double age = row.GetProperty("age").GetDouble();
            check.AssertClose(row.GetProperty("probability"), life.ChanceWithin(age, window), $"{life.Shape}, {age}");
        }
    }

    [Fact]
    public void Mean_residual_life_is_the_published_one()
    {
        PublishedCheck check = PublishedChecks.Get("conditional_failure.mean_residual_life");
        var life = new WeibullLife(check.Inputs.GetProperty("shape").GetDouble(), check.Inputs.GetProperty("scale").GetDouble());
        double[] ages = [.. check.Inputs.GetProperty("ages").EnumerateArray().Select(a => a.GetDouble())];
        check.AssertAllClose(ages.Select(life.MeanResidualLife), "mean_residual_life");
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(0.8)]
    [InlineData(1)]
    [InlineData(1.5)]
    [InlineData(4)]
    [InlineData(50)]
    public void Mean_up_to_an_age_is_the_integral_of_survival(double shape)
    {
        var life = new WeibullLife(shape, 7);
        foreach (double age in new[] { 1e-6, 0.1, 1, 5, 7, 8, 20, 500 })
        {
            // By substitution t = age u^p the integrand is smooth at 0 for shapes below 1 too.
            double p = Math.Max(1, 8 / shape), sum = 0;
            double end = Math.Min(age, 7 * Math.Pow(40, 1 / shape)); // survival is below 1e-17 from there on
            const int Cells = 4000;
            for (int i = 0; i < Cells; i++)
            {
                (double x, double w) = MidAndGauss(i, Cells);
                foreach (double u in new[] { x - w, x + w })
                {
                    sum += life.Survival(end * Math.Pow(u, p)) * end * p * Math.Pow(u, p - 1) / (2 * Cells);
                }
            }

            Assert.Equal(1, life.MeanUpTo(age) / sum, 9);
        }
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(1.2)]
    [InlineData(50)]
    public void Figures_stay_numbers_and_keep_their_bounds_at_extreme_ages(double shape)
    {
        var life = new WeibullLife(shape, 10);
        double before = double.NaN;
        foreach (double age in new[] { 0, 1e-9, 1, 9, 10, 11, 30, 1e3, 1e6, 1e9 })
        {
            Assert.InRange(life.MeanUpTo(age), 0, life.Mean * (1 + 1e-14));
            double residual = life.MeanResidualLife(age);
            Assert.InRange(residual, 0, double.MaxValue);

            // A worn part has ever less to live, one with early failures ever more.
            Assert.False(shape > 1 ? residual > before * (1 + 1e-12) : residual < before * (1 - 1e-12));
            before = residual;
            Assert.InRange(life.ChanceWithin(age, 5), 0, 1);
        }
    }

    [Fact]
    public void Without_wear_residual_life_is_the_mean_at_any_age()
    {
        var life = new WeibullLife(1, 12);
        Assert.All(new[] { 0, 1, 30, 1e3, 1e9 }, age => Assert.Equal(1, life.MeanResidualLife(age) / 12, 9));
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, -1)]
    [InlineData(double.NaN, 1)]
    [InlineData(1, double.PositiveInfinity)]
    public void Parameters_out_of_range_are_refused(double shape, double scale) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new WeibullLife(shape, scale));

    private static (double Middle, double HalfGap) MidAndGauss(int cell, int cells) =>
        ((cell + 0.5) / cells, 0.5 / cells / Math.Sqrt(3));
}
