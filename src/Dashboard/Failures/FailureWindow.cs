namespace Washwear.Dashboard.Failures;

/// <summary>The window that the page shows, as its links and its form spell it.</summary>
public static class FailureWindow
{
    private const int DaysOfUsualWindow = 365;
    private static readonly TimeSpan Tolerance = TimeSpan.FromDays(2);

    /// <summary>Lengths that one click chooses, months.</summary>
    public static IReadOnlyList<int> Months { get; } = [3, 6, 12, 24, 36];

    /// <summary>The choice without what the page would take anyway, so that a link that is kept stays a year up to its day.</summary>
    /// <param name="choice">The choice with its window filled in.</param>
    /// <param name="asOf">When the page is looked at.</param>
    /// <returns>The choice; an end that is now, and a start a year before it, are left out.</returns>
    public static FailureChoice Asked(FailureChoice choice, DateTimeOffset asOf)
    {
        ArgumentNullException.ThrowIfNull(choice);
        bool now = choice.To is null || choice.To >= asOf.AddMinutes(-1);
        bool usual = choice.From is not { } from
            || (now && (asOf - from - TimeSpan.FromDays(DaysOfUsualWindow)).Duration() < Tolerance);
        return choice with { To = now ? null : choice.To, From = usual ? null : choice.From };
    }

    /// <summary>The choice with a window of some months that ends now.</summary>
    /// <param name="asked">The choice as links spell it.</param>
    /// <param name="months">Length, months.</param>
    /// <param name="asOf">When the page is looked at.</param>
    /// <returns>The choice; its window begins at the start of a day by UTC.</returns>
    public static FailureChoice Last(FailureChoice asked, int months, DateTimeOffset asOf)
    {
        ArgumentNullException.ThrowIfNull(asked);
        DateTimeOffset from = new(asOf.UtcDateTime.Date.AddMonths(-months), TimeSpan.Zero);
        return asked with { To = null, From = months == 12 ? null : from };
    }
}
