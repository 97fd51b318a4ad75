using System.Globalization;
using Washwear.Analytics.PartLife;

namespace Washwear.Benchmarks.PartLife;

/// <summary>A life that the door lets in.</summary>
internal readonly record struct AnyLife(double Lower, double? Upper, double Entry, string? Mode, bool Poor);

/// <summary>
/// Small samples of anything that the door lets in: ages over up to twelve powers of ten, ties everywhere, one kind of life or all kinds, nobody
/// late or everybody, entries and looks a hair from the end. The same number gives the same sample.
/// </summary>
internal static class AnySample
{
    private static readonly double[] Spreads = [0, 1e-6, 0.001, 0.3, 1, 3, 6];
    private static readonly double[] LateShares = [0, 0.3, 1];
    private static readonly string?[] Modes = ["seal", "motor", null];

    public static AnyLife[] Draw(int number)
    {
        var random = new Random(number);
        double spread = Spreads[random.Next(Spreads.Length)], late = LateShares[random.Next(LateShares.Length)];
        int kinds = random.Next(1, 8), ties = random.Next(3);
        bool near = random.Next(4) == 0;
        var lives = new AnyLife[random.Next(2) == 0 ? random.Next(0, 7) : random.Next(0, 31)];
        for (int i = 0; i < lives.Length; i++)
        {
            double age = Tie(Math.Pow(10, spread * ((2 * random.NextDouble()) - 1)), ties);
            double entry = random.NextDouble() < late ? Below(random, age, near) : 0;
            lives[i] = Kind(random, kinds) switch
            {
                0 => new AnyLife(age, age, entry, Modes[random.Next(3)], false),
                1 => new AnyLife(age, null, entry, null, random.Next(4) == 0),
                _ => new AnyLife(random.Next(4) == 0 ? 0 : Tie(Below(random, age, near), ties, age), age, entry, Modes[random.Next(3)], false),
            };
        }

        return lives;
    }

    public static Lives Build(AnyLife[] sample)
    {
        var builder = new LivesBuilder("days");
        foreach (AnyLife life in sample)
        {
            _ = life.Upper is not { } upper
                ? life.Poor ? builder.SwappedWhenPoorAt(life.Lower, life.Entry) : builder.StillRunningAt(life.Lower, life.Entry)
                : life.Lower == upper ? builder.FailedAt(upper, life.Entry, life.Mode)
                : builder.FailedBetween(life.Lower, upper, life.Entry, life.Mode);
        }

        return builder.Build();
    }

    /// <summary>The sample as a file of tests/Analytics.Tests/Data/hard.</summary>
    public static string Text(AnyLife[] sample) => "lower,upper,entry\n" + string.Concat(sample.Select(life =>
        string.Create(CultureInfo.InvariantCulture, $"{life.Lower:R},{life.Upper:R},{life.Entry:R}\n")));

    private static int Kind(Random random, int kinds)
    {
        while (true)
        {
            int kind = random.Next(3);
            if ((kinds & (1 << kind)) != 0)
            {
                return kind;
            }
        }
    }

    private static double Below(Random random, double age, bool near)
    {
        double below = near ? age * (1 - Math.Pow(10, -15 * random.NextDouble())) : age * random.NextDouble();
        return below < age ? below : 0;
    }

    /// <summary>0: as it is; 1: to a quarter of its power of two; 2: to a whole number.</summary>
    private static double Tie(double age, int ties, double below = double.PositiveInfinity)
    {
        if (age <= 0)
        {
            return age;
        }

        int power = Math.ILogB(age);
        double tied = ties == 1 ? Math.ScaleB(Math.Round(Math.ScaleB(age, -power) * 4) / 4, power) : ties == 2 ? Math.Ceiling(age) : age;
        return tied < below ? tied : age;
    }
}
