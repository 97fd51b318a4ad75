using System.Globalization;

namespace Washwear.Analytics.PartLife;

/// <summary>What a life must satisfy to be counted. All ages are on one clock and in its unit (days, washes, hours).</summary>
public static class LifeRules
{
    /// <summary>
    /// Checks a life that ended, or was last seen, at <paramref name="age"/> and was watched from <paramref name="enteredAt"/> on.
    /// </summary>
    /// <returns>Null when the life can be counted; otherwise the field that breaks a rule and a sentence that says what to do.</returns>
    public static (string Field, string Rule)? WhyRefused(double age, double enteredAt)
    {
        if (!double.IsFinite(age) || age <= 0)
        {
            return ("age", Text($"The age must be a finite number above 0, not {age}: leave such a life out and count it as excluded."));
        }

        if (!double.IsFinite(enteredAt) || enteredAt < 0)
        {
            return ("enteredAt", Text($"The age at entry must be 0 or a finite number above it, not {enteredAt}."));
        }

        return enteredAt >= age
            ? ("enteredAt", Text($"The part must enter (at {enteredAt}) before its life ends (at {age}): exclude a part never watched."))
            : null;
    }

    /// <summary>Checks a failure that happened after the look at one age and no later than the look at another.</summary>
    /// <returns>As <see cref="WhyRefused(double, double)"/>.</returns>
    public static (string Field, string Rule)? WhyRefused(double lastSeenWorking, double foundFailed, double enteredAt)
    {
        if (!double.IsFinite(lastSeenWorking) || lastSeenWorking < 0)
        {
            return ("lastSeenWorking", Text($"The age last seen working must be 0 or a finite number above it, not {lastSeenWorking}."));
        }

        return WhyRefused(foundFailed, enteredAt) ?? (lastSeenWorking >= foundFailed
            ? ("lastSeenWorking", Text(
                $"The part must be seen working (at {lastSeenWorking}) before it is found failed (at {foundFailed}); else give one age."))
            : null);
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
