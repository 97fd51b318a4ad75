using ScottPlot;

namespace Washwear.Dashboard.Shell;

/// <summary>Points of lines and marks, as many as can be told apart.</summary>
public static class ChartPoints
{
    // Charts are about as high in either shape.
    private const double PixelsHigh = 400;

    /// <summary>Leaves out points that lie within a pixel of the one drawn before them: thousands of parts draw the same line as hundreds.</summary>
    /// <param name="points">The points, in their order along the line.</param>
    /// <param name="width">What the picture is wide, in the unit of x.</param>
    /// <param name="height">What the picture is high, in the unit of y.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>Some of the points in the same order, among them the first and the last.</returns>
    public static IReadOnlyList<Coordinates> Seen(IReadOnlyList<Coordinates> points, double width, double height, ChartShape shape)
    {
        ArgumentNullException.ThrowIfNull(points);
        double pixelWide = width / (shape == ChartShape.Wide ? 860 : 360);
        double pixelHigh = height / PixelsHigh;
        var seen = new List<Coordinates>();
        for (int i = 0; i < points.Count; i++)
        {
            Coordinates point = points[i];
            if (i == 0 || i == points.Count - 1 || Math.Abs(point.X - seen[^1].X) >= pixelWide || Math.Abs(point.Y - seen[^1].Y) >= pixelHigh)
            {
                seen.Add(point);
            }
        }

        return seen;
    }
}
