using Washwear.Analytics.PartLife;
using Washwear.Analytics.Repeats;

namespace Washwear.Benchmarks.Repeats;

/// <summary>One part as it was watched.</summary>
/// <param name="Entry">Age when watching began, days.</param>
/// <param name="End">Age when it failed or watching ended, days.</param>
/// <param name="Failed">Whether it failed.</param>
/// <param name="EndsOnDay">Day of the fleet's time at which it ended.</param>
internal readonly record struct WatchedPart(int Unit, int Position, double Entry, double End, bool Failed, double EndsOnDay);

/// <summary>
/// A fleet of which the truth is known: 400 units, watched for three years or, two in five of them, since they were new some time ago. Parts are
/// replaced when they fail. Some units wear out the parts of one position: there the hazard is a multiple of the others', or parts last a share as
/// long.
/// </summary>
internal sealed class RenewedFleet
{
    public const int Units = 400;
    public const double WatchedDays = 1095;

    // Scale in days and shape: gasket, hose, pump, drain valve, spray arm, fill valve.
    public static readonly Weibull[] Lives = [new(400, 2.5), new(500, 3), new(700, 2.2), new(900, 1.5), new(1200, 1.8), new(1500, 1.1)];

    public RenewedFleet(int seed, double badShare, double hazardRatio, double lifeShare = 1)
    {
        var random = new Random(seed);
        foreach (int unit in Enumerable.Range(0, (int)Math.Round(badShare * Units)))
        {
            _ = Bad.Add((unit, random.Next(Lives.Length)));
        }

        for (int unit = 0; unit < Units; unit++)
        {
            // Every fifth and next: the bad units are old and new ones alike.
            bool young = unit % 5 < 2;
            BeganOnDay[unit] = young ? random.NextDouble() * (WatchedDays - 30) : 0;
            for (int position = 0; position < Lives.Length; position++)
            {
                Weibull life = Lives[position];
                double shorter = Bad.Contains((unit, position)) ? lifeShare * Math.Pow(hazardRatio, -1 / life.Shape) : 1;
                Renew(random, unit, position, new Weibull(life.Scale * shorter, life.Shape), young);
            }
        }
    }

    public HashSet<(int Unit, int Position)> Bad { get; } = [];

    public double[] BeganOnDay { get; } = new double[Units];

    public List<WatchedPart> Parts { get; } = [];

    /// <summary>Lives as the fleet's records show them, bad units among them.</summary>
    public Weibull Fitted(int position)
    {
        var builder = new LivesBuilder("days");
        foreach (WatchedPart part in Parts.Where(p => p.Position == position))
        {
            _ = part.Failed ? builder.FailedAt(part.End, part.Entry) : builder.StillRunningAt(part.End, part.Entry);
        }

        return ((FittedLife)WeibullFit.Fit(builder.Build())).Curve;
    }

    /// <summary>Failures and what the curves expect, of each unit and position.</summary>
    public WatchedFailures[] Rows(Weibull[] curves) =>
    [
        .. Parts.GroupBy(p => (p.Unit, p.Position)).Select(g => new WatchedFailures(
            g.Key.Unit, g.Key.Position, g.Count(p => p.Failed),
            g.Sum(p => curves[p.Position].CumulativeHazardAt(p.End) - curves[p.Position].CumulativeHazardAt(p.Entry)))),
    ];

    private void Renew(Random random, int unit, int position, Weibull life, bool young)
    {
        // An old unit has had parts replaced long before watching begins, so the first one watched has an age.
        double day = young ? BeganOnDay[unit] : -10 * life.Scale;
        while (day < WatchedDays)
        {
            double failsOn = day + life.AgeWhenFailed(1 - random.NextDouble());
            double from = Math.Max(day, BeganOnDay[unit]), to = Math.Min(failsOn, WatchedDays);
            if (to > from)
            {
                Parts.Add(new WatchedPart(unit, position, from - day, to - day, failsOn < WatchedDays, to));
            }

            day = failsOn;
        }
    }
}
