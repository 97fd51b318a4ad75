using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>What a rule counts from one due wash to the next.</summary>
public abstract record DueBasis
{
    private protected DueBasis()
    {
    }
}

/// <summary>A wash is due at the end of every <paramref name="Days"/>-th open trading day (1 = every day).</summary>
/// <param name="Days">Number of open trading days, 1 or more.</param>
public sealed record EveryTradingDays(int Days) : DueBasis
{
    /// <summary>Number of open trading days, 1 or more.</summary>
    public int Days { get; init; } =
        Days >= 1 ? Days : throw new ArgumentOutOfRangeException(nameof(Days), Days, "A wash is due every 1 or more trading days.");
}

/// <summary>A wash is due when <paramref name="Interval"/> has passed since the last one that counted.</summary>
/// <param name="Interval">Elapsed time, above zero.</param>
public sealed record EveryHours(Duration Interval) : DueBasis
{
    /// <summary>Elapsed time, above zero.</summary>
    public Duration Interval { get; init; } = Interval > Duration.Zero
        ? Interval
        : throw new ArgumentOutOfRangeException(nameof(Interval), Interval, "A rule's interval is longer than nothing.");
}

/// <summary>
/// A wash is due when the unit has completed so many other washes since the last one that counts, such as descaling after every 50 washes.
/// </summary>
/// <param name="Washes">Number of completed washes, 1 or more.</param>
public sealed record EveryWashes(int Washes) : DueBasis
{
    /// <summary>Number of completed washes, 1 or more.</summary>
    public int Washes { get; init; } =
        Washes >= 1 ? Washes : throw new ArgumentOutOfRangeException(nameof(Washes), Washes, "A wash is due every 1 or more washes.");
}

/// <summary>A wash is due when the unit's meter shows so many operating hours since the last wash that counts.</summary>
/// <param name="Hours">Operating hours, above 0.</param>
public sealed record EveryOperatingHours(double Hours) : DueBasis
{
    /// <summary>Operating hours, above 0.</summary>
    public double Hours { get; init; } = Hours > 0 && double.IsFinite(Hours)
        ? Hours
        : throw new ArgumentOutOfRangeException(nameof(Hours), Hours, "A wash is due every so many operating hours, more than 0.");
}

/// <summary>How often which grade of wash is due, and how long it may be late before it counts as overdue.</summary>
public sealed record CleaningRule
{
    /// <summary>Makes a rule.</summary>
    /// <param name="code">The user's own code of the rule.</param>
    /// <param name="grade">Lowest grade that counts.</param>
    /// <param name="basis">What is counted from one due wash to the next.</param>
    /// <param name="grace">Elapsed time from due to the deadline, zero or more; shorter than the interval of an hours rule.</param>
    /// <param name="validFrom">First trading day of the site for which it holds; null = always did.</param>
    /// <param name="validTo">Last trading day of the site for which it holds; null = until further notice.</param>
    /// <exception cref="ArgumentException">The grace is negative or as long as the interval, or the validity ends before it
    /// begins.</exception>
    public CleaningRule(
        string code, ProgrammeGrade grade, DueBasis basis, Duration grace, LocalDate? validFrom = null, LocalDate? validTo = null)
    {
        if (grace < Duration.Zero)
        {
            throw new ArgumentException($"Rule {code}: the grace is {grace.TotalHours} h; it must be 0 h or more.", nameof(grace));
        }

        if (basis is EveryHours hours && grace >= hours.Interval)
        {
            // Otherwise two washes could be due at once, and nobody could say which of them a wash keeps.
            throw new ArgumentException(
                $"Rule {code}: the grace ({grace.TotalHours} h) must be shorter than the interval ({hours.Interval.TotalHours} h).",
                nameof(grace));
        }

        if (validFrom is { } from && validTo is { } to && to < from)
        {
            throw new ArgumentException($"Rule {code}: it cannot end on {to:R}, before it begins on {from:R}.", nameof(validTo));
        }

        (Code, Grade, Basis, Grace, ValidFrom, ValidTo) = (code, grade, basis, grace, validFrom, validTo);
    }

    /// <summary>The user's own code of the rule.</summary>
    public string Code { get; }

    /// <summary>Lowest grade that counts.</summary>
    public ProgrammeGrade Grade { get; }

    /// <summary>What is counted from one due wash to the next.</summary>
    public DueBasis Basis { get; }

    /// <summary>Elapsed time from due to the deadline.</summary>
    public Duration Grace { get; }

    /// <summary>First trading day for which the rule holds; null = always did.</summary>
    public LocalDate? ValidFrom { get; }

    /// <summary>Last trading day for which the rule holds; null = until further notice.</summary>
    public LocalDate? ValidTo { get; }
}
