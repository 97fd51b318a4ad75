namespace Washwear.Analytics.Diagnosis;

/// <summary>What the arguments of this folder must satisfy; not-a-number is refused everywhere.</summary>
internal static class Requirements
{
    public static void InRange(double value, double least, double most, string name)
    {
        if (!(value >= least && value <= most))
        {
            throw new ArgumentOutOfRangeException(name, value, FormattableString.Invariant($"{name} lies from {least} to {most}."));
        }
    }

    public static void Minutes(double value, string name)
    {
        if (!(value > 0 && double.IsFinite(value)))
        {
            throw new ArgumentOutOfRangeException(name, value, $"{name} is a finite number of minutes above 0.");
        }
    }

    /// <summary>Probabilities scaled to add to 1.</summary>
    public static double[] Normalised(IReadOnlyList<double> probabilities)
    {
        ArgumentNullException.ThrowIfNull(probabilities);
        foreach (double probability in probabilities)
        {
            InRange(probability, 0, double.MaxValue, nameof(probabilities));
        }

        double sum = probabilities.Sum();
        return sum > 0 && double.IsFinite(sum)
            ? [.. probabilities.Select(probability => probability / sum)]
            : throw new ArgumentOutOfRangeException(nameof(probabilities), sum, "Probabilities have a finite sum above 0.");
    }
}
