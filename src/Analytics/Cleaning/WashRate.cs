using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>How often a unit washes: turns a rate of false alarms a year into one a wash.</summary>
/// <param name="Washes">Washes counted.</param>
/// <param name="FirstAt">The first of them.</param>
/// <param name="LastAt">The last of them.</param>
public sealed record WashRate(int Washes, Instant? FirstAt, Instant? LastAt)
{
    private const double DaysPerYear = 365.25;
    private const int FewestWashes = 5;

    private const double MostPerDay = 10;

    /// <summary>No wash yet.</summary>
    public static WashRate None { get; } = new(0, null, null);

    /// <summary>Washes a year; one a day is assumed until five washes are known.</summary>
    public double PerYear => Washes < FewestWashes || LastAt <= FirstAt
        ? DaysPerYear
        : (Washes - 1) / (LastAt!.Value - FirstAt!.Value).TotalDays * DaysPerYear;

    /// <summary>Washes a year that a chart is designed for: up to the next tenth of a wash a day, so that units share designs and the rate
    /// asked for is not exceeded.</summary>
    internal double DesignPerYear => Math.Clamp(Math.Ceiling((PerYear / DaysPerYear * 10) - 1e-6), 1, 10 * MostPerDay) / 10 * DaysPerYear;

    internal WashRate Add(Instant at) => new(Washes + 1, FirstAt ?? at, at);
}
