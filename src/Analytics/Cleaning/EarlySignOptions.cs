namespace Washwear.Analytics.Cleaning;

/// <summary>What counts as an early sign, and how rarely a sound unit may raise one.</summary>
/// <param name="FalseAlarmsPerYear">False alarms of a sound unit in a year that are asked for, of the chart of bad washes and of the chart
/// of durations (its two sides together) each; above 0.</param>
/// <param name="FirstWashes">First washes that only tell how the unit is, before bad washes are charted; 1 or more.</param>
/// <param name="AssumedBadShare">Share of bad washes that a unit is taken for before its own washes tell; an assumption, not a
/// finding. Above 0 and below 1.</param>
/// <param name="AssumedWashes">Number of washes that the assumption is worth beside the unit's own, 0 or more.</param>
/// <param name="WorseRatio">By what factor bad washes must become more frequent for the chart to be tuned to it, above 1.</param>
/// <param name="MostBaselineWashes">Number of washes that the unit's own share rests on at most: older ones fade.</param>
/// <param name="FirstOfProgramme">First washes of a programme that only tell how long it takes; 4 or more.</param>
/// <param name="UsualAfterWashes">After so many washes under a standing sign of changed durations, nothing mended and nothing failed, the new
/// durations are taken for the unit's way.</param>
public sealed record EarlySignOptions(
    double FalseAlarmsPerYear = 0.5,
    int FirstWashes = 30,
    double AssumedBadShare = 0.03,
    double AssumedWashes = 60,
    double WorseRatio = 4,
    double MostBaselineWashes = 1000,
    int FirstOfProgramme = 10,
    int UsualAfterWashes = 90)
{
    /// <summary>The choice that pages and alerts use: one false alarm in two unit-years a chart.</summary>
    public static EarlySignOptions Usual { get; } = new();

    internal void Require()
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(FirstWashes, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(FirstOfProgramme, 4);
        ArgumentOutOfRangeException.ThrowIfLessThan(UsualAfterWashes, 1);
        Within(FalseAlarmsPerYear, 0.05, 20, nameof(FalseAlarmsPerYear));
        Within(AssumedBadShare, 1e-6, 0.999, nameof(AssumedBadShare));
        Within(AssumedWashes, 0, 1e6, nameof(AssumedWashes));
        Within(WorseRatio, 1.2, 20, nameof(WorseRatio));
        Within(MostBaselineWashes, 1, 1e9, nameof(MostBaselineWashes));
    }

    private static void Within(double value, double least, double most, string name)
    {
        if (!(value >= least && value <= most))
        {
            throw new ArgumentOutOfRangeException(name, value, $"{name}: between {least} and {most}.");
        }
    }
}
