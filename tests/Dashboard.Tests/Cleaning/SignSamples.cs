using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Dashboard.Tests.Cleaning;

/// <summary>Early signs of an invented fleet; figures made up to fill a page.</summary>
public static class SignSamples
{
    private static DateTimeOffset AsOf => Samples.AsOf;

    public static SignReading Bad => new(
        SignKind.BadWashes, true, 2.4, 2.19, AsOf.AddDays(-9), AsOf.AddDays(-2), 11, 4, null, null, 0.02, 640, 750.3, 0.487,
        "Washes of OV-1003 go wrong more often than they used to: 4 of the last 11 were stopped by a fault or left detergent; usual is at most 2 in 100.");

    public static SignReading Longer => new(
        SignKind.LongerWashes, true, 1.5, 5.9, AsOf.AddDays(-3), null, 4, null, 95.2, 91.8, null, 88, 1490, 0.245,
        "No sign: the sum stands at 25 % of its limit.");

    public static SignReading TooLittle => new(
        SignKind.ShorterWashes, false, null, null, null, null, 0, null, null, null, null, 4, null, null,
        "Too little history: fewer than 10 washes of any one programme since a part was last changed.");

    public static EarlySignsReport Report => new(
        Samples.Basis("cumulative sums, each unit against its own history", 128), "Washes are getting worse at 2 of 128 units: look at them before they lock out.",
        0.5, 2, [Row(3, Bad), Row(7, Longer with { CalledAt = AsOf.AddDays(-4), Statistic = 5.9 })], "cursor-5");

    public static EarlySignsReport Empty => new(
        Hostile.EmptyBasis, "No unit has enough washes on record yet to tell whether they are getting worse.", 0.5, 0, [], null);

    public static EarlySignsReport HostileReport => new(
        Hostile.EmptyBasis, Hostile.Name, double.NaN, 1,
        [
            new("a/b?c#d%20&\"<", Hostile.Name, Hostile.LongName, Hostile.Name, Hostile.Name, Hostile.Name, null, "No/Such_Zone", HostileReading),
        ],
        Hostile.Name);

    public static SignCharts Charts => new(
        Bad.Sentence, [Bad, Longer, TooLittle],
        [
            .. Enumerable.Range(0, 40).Select(i => new SignPoint(
                AsOf.AddDays(i - 40), i == 12, i < 12 ? i * 0.02 : Math.Min(1, (i - 12) * 0.04), i < 22 && i >= 12 ? null : 0.25, null)),
        ]);

    public static SignCharts NoCharts => new(
        "Too little history to tell whether the washes are getting worse.", [TooLittle with { Kind = SignKind.BadWashes }, TooLittle], []);

    public static SignCharts HostileCharts => new(
        Hostile.Name, [HostileReading],
        [new(AsOf, true, double.NaN, double.PositiveInfinity, null), new(AsOf, false, 0.5, double.NaN, -1)]);

    private static SignReading HostileReading => new(
        SignKind.LongerWashes, true, double.NaN, double.NaN, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, -1, null, double.NaN, double.NaN,
        double.NaN, -3, double.NaN, double.PositiveInfinity, Hostile.Name);

    private static UnitSign Row(int i, SignReading reading) => new(
        $"OV-{1000 + i}", $"S{i % 9}", Samples.SiteNames[i % 9], $"OP{i % 3}", Samples.OperatorNames[i % 3], "H20", "North", Samples.Zone, reading);
}
