using MathNet.Numerics.Integration;

namespace Washwear.Analytics.PartLife;

/// <summary>
/// A part that fails of whichever mode comes first, modes independent, each with its own Weibull curve: survival is the product of the
/// modes' survivals, and mode k has ended a share F_k(t), the integral of h_k(u) S(u) over ages to t (Meeker and Escobar 1998, 15.4).
/// </summary>
public sealed record SeriesSystem
{
    private const double WholeHazard = 45;
    private const double NegligibleShare = 1e-14;
    private const int OrderInPanel = 8;

    /// <summary>A part with these modes.</summary>
    /// <param name="curves">One curve a mode, one or more.</param>
    public SeriesSystem(IReadOnlyList<Weibull> curves)
    {
        ArgumentNullException.ThrowIfNull(curves);
        ArgumentOutOfRangeException.ThrowIfZero(curves.Count, nameof(curves));
        Curves = [.. curves];
    }

    /// <summary>The modes' curves, in the order given.</summary>
    public IReadOnlyList<Weibull> Curves { get; }

    /// <summary>Share of parts that survive all modes to an age.</summary>
    /// <param name="age">Age, 0 or more.</param>
    public double SurvivalAt(double age) => Math.Exp(-Curves.Sum(c => c.CumulativeHazardAt(age)));

    /// <summary>Share of parts that one mode has ended by an age.</summary>
    /// <param name="mode">Index into <see cref="Curves"/>.</param>
    /// <param name="age">Age, 0 or more.</param>
    public double IncidenceAt(int mode, double age)
    {
        Weibull curve = Curves[mode];
        if (age == 0)
        {
            return 0;
        }

        // Over ln age, k H_k S is smooth and dies out at both ends whatever the shapes; its features are no finer than 1/greatest shape.
        double last = Math.Min(Math.Log(age), Curves.Min(c => Math.Log(c.Scale) + (Math.Log(WholeHazard) / c.Shape)));
        double first = last + (Math.Log(NegligibleShare) / curve.Shape);
        int panels = (int)Math.Ceiling((last - first) * Curves.Max(c => c.Shape));
        double width = (last - first) / panels;
        double Integrand(double logAge)
        {
            double at = Math.Exp(logAge);
            return curve.Shape * curve.CumulativeHazardAt(at) * SurvivalAt(at);
        }

        double sum = 0;
        for (int i = 0; i < panels; i++)
        {
            sum += GaussLegendreRule.Integrate(Integrand, first + (i * width), first + ((i + 1) * width), OrderInPanel);
        }

        return Math.Clamp(sum, 0, 1);
    }
}
