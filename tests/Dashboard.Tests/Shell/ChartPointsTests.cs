using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

/// <summary>Lines of thousands of points: as many as can be told apart.</summary>
public sealed class ChartPointsTests
{
    private const double Width = 2000;

    // A survival curve of 5,000 failures: two corners each.
    private static readonly Coordinates[] Steps =
        [.. Enumerable.Range(0, 5_000).SelectMany(i => new[] { new Coordinates(i * 0.4, 1 - (i / 5_000.0)), new Coordinates(i * 0.4, 1 - ((i + 1) / 5_000.0)) })];

    [Fact]
    public void Nothing_that_is_left_out_lies_further_than_a_pixel_from_what_is_drawn()
    {
        IReadOnlyList<Coordinates> seen = ChartPoints.Seen(Steps, Width, 1, ChartShape.Wide);
        Assert.InRange(seen.Count, 400, 1_200);
        Assert.Equal((Steps[0], Steps[^1]), (seen[0], seen[^1]));
        Assert.Equal(seen, Steps.Where(seen.Contains));
        Assert.All(Steps, step => Assert.Contains(seen, kept => Math.Abs(kept.X - step.X) < Width / 860 && Math.Abs(kept.Y - step.Y) < 1.0 / 400));
    }

    [Fact]
    public void A_phone_gets_fewer() => Assert.True(
        ChartPoints.Seen(Steps, Width, 1, ChartShape.Narrow).Count < ChartPoints.Seen(Steps, Width, 1, ChartShape.Wide).Count);

    [Fact]
    public void Few_points_stay_as_they_are()
    {
        Coordinates[] few = [new(0, 1), new(10, 1), new(10, 0.9), new(400, 0.9)];
        Assert.Equal(few, ChartPoints.Seen(few, 500, 1, ChartShape.Wide));
        Assert.Empty(ChartPoints.Seen([], 500, 1, ChartShape.Wide));
    }
}
