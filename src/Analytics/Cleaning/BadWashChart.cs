using System.Collections.Concurrent;
using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Running state of the chart of bad washes: a Bernoulli sum (see <see cref="BernoulliCusum"/>) against the unit's own share. That share
/// rests on washes that led to no sign that had to be mended, beside an assumption that the first ones outweigh; the chart is designed
/// anew for it whenever the sum is at 0. Immutable; a wash costs the same however long the history is.
/// </summary>
/// <param name="Rate">How many washes that tell something about the machine, and since when.</param>
/// <param name="BaselineWashes">Washes that tell how the unit is while sound; older ones fade.</param>
/// <param name="BaselineBad">Bad ones among them.</param>
/// <param name="BaseShare">Share of bad washes that the chart takes for sound; 0: no chart yet.</param>
/// <param name="StepsPerBadWash">m: a bad wash adds m - 1 to the sum, a good one takes 1 away.</param>
/// <param name="Sum">The sum, in units of 1 / m.</param>
public sealed record BadWashChart(
    WashRate Rate, double BaselineWashes, double BaselineBad, double BaseShare, int StepsPerBadWash, SignSum Sum)
{
    private const double ShareGrid = 0.005;
    private const double LeastShare = 0.01;
    private const double MostShare = 0.3;
    private const double MostWorseShare = 0.9;

    // Designs are a pure function of their three numbers and cost milliseconds: many units share few of them.
    private static readonly ConcurrentDictionary<(double Base, double Worse, double Washes), BernoulliDesign> Designs = new();

    /// <summary>Before any wash.</summary>
    public static BadWashChart Blank { get; } = new(WashRate.None, 0, 0, 0, 0, SignSum.Blank);

    internal BadWashChart Add(bool isBad, Instant at, EarlySignOptions options)
    {
        BadWashChart counted = this with { Rate = Rate.Add(at) };
        if (Rate.Washes < options.FirstWashes)
        {
            return counted.Learn(1, isBad ? 1 : 0, options);
        }

        BadWashChart designed = Sum.Value == 0 ? counted.Design(options) : counted;
        double bad = isBad ? 1 : 0;
        SignSum sum = designed.Sum.Add(isBad ? designed.StepsPerBadWash - 1 : -1, at, bad, designed.BaseShare);
        BadWashChart charted = designed with { Sum = sum };

        // Back at 0: the washes of the climb were the unit's own ups and downs.
        return sum.Value == 0 ? charted.Learn(Sum.Washes + 1, Sum.Seen + bad, options) : charted;
    }

    /// <summary>The sum begins anew; what led to a sign was no sound unit's washing, and is not learnt.</summary>
    internal BadWashChart Restart(Instant at, EarlySignOptions options)
    {
        BadWashChart restarted = this with { Sum = Sum.Begin(at, SignEnd.Mended) };
        return Sum.IsCalled ? restarted : restarted.Learn(Sum.Washes, Sum.Seen, options);
    }

    private BadWashChart Learn(double washes, double bad, EarlySignOptions options)
    {
        double all = BaselineWashes + washes;
        double fade = Math.Min(1, options.MostBaselineWashes / Math.Max(1, all));
        return this with { BaselineWashes = all * fade, BaselineBad = (BaselineBad + bad) * fade };
    }

    private BadWashChart Design(EarlySignOptions options)
    {
        double share = (BaselineBad + (options.AssumedWashes * options.AssumedBadShare)) / (BaselineWashes + options.AssumedWashes);

        // Up to the next half per cent: a chart for a somewhat worse unit has fewer false alarms.
        double baseShare = Math.Clamp(Math.Ceiling(share / ShareGrid) * ShareGrid, LeastShare, MostShare);
        BernoulliDesign design = Designs.GetOrAdd(
            (baseShare, Math.Min(MostWorseShare, options.WorseRatio * baseShare), Rate.DesignPerYear / options.FalseAlarmsPerYear),
            wanted => BernoulliCusum.Design(wanted.Base, wanted.Worse, wanted.Washes));
        return this with
        {
            BaseShare = baseShare,
            StepsPerBadWash = design.StepsPerBadWash,
            Sum = Sum with { Limit = design.LimitUnits, WashesBetweenFalseAlarms = design.WashesToFalseAlarm },
        };
    }
}
