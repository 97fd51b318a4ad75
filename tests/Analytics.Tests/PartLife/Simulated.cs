using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

/// <summary>Lives drawn from a known truth with a seeded source.</summary>
internal static class Simulated
{
    /// <summary>Half the parts enter late, uniformly to 0.4 of the scale; all are watched to 1.2 of it at most.</summary>
    public static Lives Lives(Random random, int parts, double scale = 1000, double shape = 1.8)
    {
        var truth = new Weibull(scale, shape);
        var builder = new LivesBuilder("days");
        while (builder.Count < parts)
        {
            double life = truth.AgeWhenFailed(1 - random.NextDouble());
            double entry = random.Next(2) == 0 ? 0 : 400 * random.NextDouble();
            if (life > entry)
            {
                _ = life > 1200 ? builder.StillRunningAt(1200, entry) : builder.FailedAt(life, entry);
            }
        }

        return builder.Build();
    }

    /// <summary>Complete lives.</summary>
    public static Lives Complete(Random random, int parts, params (double Share, Weibull Truth)[] mixture)
    {
        var builder = new LivesBuilder("days");
        for (int i = 0; i < parts; i++)
        {
            double which = random.NextDouble();
            int k = 0;
            while (k < mixture.Length - 1 && which >= mixture[k].Share)
            {
                which -= mixture[k++].Share;
            }

            builder.FailedAt(mixture[k].Truth.AgeWhenFailed(1 - random.NextDouble()));
        }

        return builder.Build();
    }
}
