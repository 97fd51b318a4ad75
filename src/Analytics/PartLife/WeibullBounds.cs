using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>How the uncertainty of a fitted figure is bounded.</summary>
public enum BoundsMethod
{
    /// <summary>Profile likelihood: sound with few failures; may be open-ended.</summary>
    ProfileLikelihood,

    /// <summary>Normal theory on the log scale (ln H for survival), observed information: quick, too short with few failures.</summary>
    ObservedInformation,
}

/// <summary>Which figures to bound.</summary>
public sealed record WeibullBoundsOptions
{
    /// <summary>Confidence level of the two-sided intervals, above 0 and below 1.</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>How to bound.</summary>
    public BoundsMethod Method { get; init; } = BoundsMethod.ProfileLikelihood;

    /// <summary>Shares failed whose ages are wanted; 0.10 and 0.50 (the B10 and B50 lives) unless set.</summary>
    public IReadOnlyList<double> FailedFractions { get; init; } = [0.10, 0.50];

    /// <summary>Ages, above 0, at which survival is wanted.</summary>
    public IReadOnlyList<double> SurvivalAges { get; init; } = [];
}

/// <summary>The age by which a share of parts fails.</summary>
/// <param name="FailedFraction">Share failed, such as 0.10 for the B10 life.</param>
/// <param name="Age">The age and its bounds, in the unit of the clock.</param>
public sealed record FailedFractionAge(double FailedFraction, Estimate Age);

/// <summary>Survival at an age.</summary>
/// <param name="Age">The age, in the unit of the clock.</param>
/// <param name="Survival">Share of parts that survive to it, and its bounds.</param>
public sealed record SurvivalAtAge(double Age, Estimate Survival);

/// <summary>Figures of a fitted curve with their bounds. Ages are in the unit of the clock.</summary>
/// <param name="Shape">Shape, no unit.</param>
/// <param name="Scale">Age by which 63.2 % fail.</param>
/// <param name="MeanLife">Mean life.</param>
/// <param name="AgesWhenFailed">Ages by which the shares asked for fail, in the order asked.</param>
/// <param name="SurvivalAtAges">Survival at the ages asked for, in the order asked.</param>
/// <param name="Doubts">One sentence for each bound that is open.</param>
public sealed record LifeBounds(
    Estimate Shape,
    Estimate Scale,
    Estimate MeanLife,
    IReadOnlyList<FailedFractionAge> AgesWhenFailed,
    IReadOnlyList<SurvivalAtAge> SurvivalAtAges,
    IReadOnlyList<string> Doubts);

/// <summary>
/// Bounds on the figures of a fitted Weibull curve: profile likelihood or observed information (Meeker and Escobar 1998, Statistical
/// Methods for Reliability Data, 8.3 and 8.4). Normal-theory bounds are taken on ln of the figure, for survival on ln H (complementary
/// log-log). A profile bound is open (null) when the records do not exclude a value a million times, or a millionth of, the estimate; that
/// of a share (survival, chance to fail) when they exclude neither that nor a share within 1e-12 of 0 or 1.
/// </summary>
public static class WeibullBounds
{
    /// <summary>All figures asked for, in one call; the data are not refitted.</summary>
    /// <param name="fit">A fitted curve.</param>
    /// <param name="options">Level, method and figures; null for 95 % profile bounds on the B10 and B50 lives.</param>
    /// <exception cref="ArgumentOutOfRangeException">A level or share does not lie between 0 and 1, or an age is not above 0.</exception>
    public static LifeBounds Of(FittedLife fit, WeibullBoundsOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(fit);
        WeibullBoundsOptions asked = options ?? new WeibullBoundsOptions();
        var doubts = new List<string>();
        Estimate Noted(string name, Estimate estimate, bool share = false)
        {
            doubts.AddRange(OpenBounds(name, estimate, share));
            return estimate;
        }

        return new LifeBounds(
            Noted("shape", Shape(fit, asked.Level, asked.Method)),
            Noted("scale", Scale(fit, asked.Level, asked.Method)),
            Noted("mean life", MeanLife(fit, asked.Level, asked.Method)),
            [.. asked.FailedFractions.Select(f => new FailedFractionAge(f, Noted(
                ResultAccount.Text($"age when {100 * f:G4} % have failed"), AgeWhenFailed(fit, f, asked.Level, asked.Method))))],
            [.. asked.SurvivalAges.Select(a => new SurvivalAtAge(a, Noted(
                ResultAccount.Text($"survival at {a:G4}"), SurvivalAt(fit, a, asked.Level, asked.Method), share: true)))],
            doubts);
    }

    /// <summary>Shape with bounds.</summary>
    public static Estimate Shape(FittedLife fit, double level = 0.95, BoundsMethod method = BoundsMethod.ProfileLikelihood) =>
        Exponentiated(fit, new ShapeQuantity(), level, method, 0);

    /// <summary>Scale with bounds.</summary>
    public static Estimate Scale(FittedLife fit, double level = 0.95, BoundsMethod method = BoundsMethod.ProfileLikelihood) =>
        Exponentiated(fit, new AgeQuantity(0), level, method, CentreOf(fit));

    /// <summary>Mean life with bounds.</summary>
    public static Estimate MeanLife(FittedLife fit, double level = 0.95, BoundsMethod method = BoundsMethod.ProfileLikelihood) =>
        Exponentiated(fit, new MeanQuantity(), level, method, CentreOf(fit));

    /// <summary>Age by which a share of parts fails, with bounds; 0.10 gives the B10 life.</summary>
    /// <param name="fit">A fitted curve.</param>
    /// <param name="fraction">Share failed, above 0 and below 1.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <param name="method">How to bound.</param>
    public static Estimate AgeWhenFailed(
        FittedLife fit, double fraction, double level = 0.95, BoundsMethod method = BoundsMethod.ProfileLikelihood)
    {
        double hazard = -Elementary.LogOnePlus(-Weibull.Share(fraction));
        return Exponentiated(fit, new AgeQuantity(Math.Log(hazard)), level, method, CentreOf(fit));
    }

    /// <summary>Share of parts that survive to an age, with bounds.</summary>
    /// <param name="fit">A fitted curve.</param>
    /// <param name="age">Age, finite and above 0.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <param name="method">How to bound.</param>
    public static Estimate SurvivalAt(FittedLife fit, double age, double level = 0.95, BoundsMethod method = BoundsMethod.ProfileLikelihood)
    {
        if (!double.IsFinite(age) || age <= 0)
        {
            throw new ArgumentOutOfRangeException(nameof(age), age, "Survival is bounded at a finite age above 0.");
        }

        var quantity = new HazardQuantity(Math.Log(age) - CentreOf(fit));
        (double value, double? lower, double? upper) = Bounded(fit, quantity, level, method);
        return new Estimate(Survival(value), upper is { } u ? Survival(u) : null, lower is { } l ? Survival(l) : null, level, Name(method));
    }

    /// <summary>
    /// Chance that a part fails within a further stretch of age given that it works now, 1 - exp(-(H(age + further) - H(age))), with bounds
    /// taken on ln of that further hazard.
    /// </summary>
    /// <param name="fit">A fitted curve.</param>
    /// <param name="age">Age now, finite, 0 or more.</param>
    /// <param name="further">Further age, finite and above 0.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <param name="method">How to bound.</param>
    public static Estimate FurtherFailure(
        FittedLife fit, double age, double further, double level = 0.95, BoundsMethod method = BoundsMethod.ProfileLikelihood)
    {
        if (!double.IsFinite(age) || age < 0 || !double.IsFinite(further) || further <= 0)
        {
            throw new ArgumentOutOfRangeException(nameof(age), age, "The age is 0 or more and the further stretch above 0, both finite.");
        }

        double centre = CentreOf(fit);
        var quantity = new FurtherHazardQuantity(Math.Log(age) - centre, Math.Log(age + further) - centre);
        (double value, double? lower, double? upper) = Bounded(fit, quantity, level, method);
        double? Chance(double? logHazard) => logHazard is { } h ? -Elementary.ExpMinusOne(-Math.Exp(h)) : null;
        return new Estimate(Chance(value)!.Value, Chance(lower), Chance(upper), level, Name(method));
    }

    /// <summary>A sentence for each bound of an estimate that does not exist.</summary>
    private static IEnumerable<string> OpenBounds(string name, Estimate estimate, bool share)
    {
        if (estimate.Lower is null)
        {
            yield return $"The lower bound of the {name} is open: the records do not exclude {(share ? "0" : "values far below any use")}.";
        }

        if (estimate.Upper is null)
        {
            yield return $"The upper bound of the {name} is open: the records do not exclude {(share ? "1" : "values far above any use")}.";
        }
    }

    private static double Survival(double logHazard) => Math.Exp(-Math.Exp(logHazard));

    private static double CentreOf(FittedLife fit)
    {
        ArgumentNullException.ThrowIfNull(fit);
        return fit.Likelihood.Centre;
    }

    private static Estimate Exponentiated(FittedLife fit, WeibullQuantity quantity, double level, BoundsMethod method, double shift)
    {
        ArgumentNullException.ThrowIfNull(fit);
        (double value, double? lower, double? upper) = Bounded(fit, quantity, level, method);
        return new Estimate(Math.Exp(value + shift), Usable(lower + shift), Usable(upper + shift), level, Name(method));
    }

    /// <summary>A bound from its logarithm; null where it is open or leaves the range of numbers.</summary>
    private static double? Usable(double? log)
    {
        double? bound = log is { } known ? Math.Exp(known) : null;
        return bound is > 0 && double.IsFinite(bound.Value) ? bound : null;
    }

    private static (double Value, double? Lower, double? Upper) Bounded(
        FittedLife fit, WeibullQuantity quantity, double level, BoundsMethod method)
    {
        FixedShapeFit.CheckConfidence(level);
        double z = Normal.InvCDF(0, 1, (1 + level) / 2);
        double value = quantity.At(fit.Maximum.Offset, fit.Maximum.Slope);
        if (method == BoundsMethod.ProfileLikelihood)
        {
            (double? lower, double? upper) = WeibullProfile.Bounds(fit, quantity, z);
            return (value, lower, upper);
        }

        double error = StandardError(fit, quantity);
        return (value, value - (z * error), value + (z * error));
    }

    private static double StandardError(FittedLife fit, WeibullQuantity quantity)
    {
        (double byOffset, double bySlope) = quantity.Gradient(fit.Maximum.Offset, fit.Maximum.Slope);
        (double offset, double slope) = fit.CovarianceWith(byOffset, bySlope);
        return Math.Sqrt((byOffset * offset) + (bySlope * slope));
    }

    private static string Name(BoundsMethod method) => method switch
    {
        BoundsMethod.ProfileLikelihood => "profile likelihood",
        BoundsMethod.ObservedInformation => "observed information, log scale",
        _ => throw new ArgumentOutOfRangeException(nameof(method), method, "Unknown way to bound."),
    };
}
