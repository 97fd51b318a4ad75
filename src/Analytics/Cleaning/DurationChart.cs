using System.Collections.Concurrent;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Running state of the chart of durations: two one-sided sums of scores (see <see cref="ProgrammeDurations"/>) with the allowance of half a
/// standard deviation. Each score is cut at 3, so that one odd wash raises no sign, and rounded to an eighth, so that the sums live on whole
/// numbers and their false-alarm rate is exact (see <see cref="LatticeCusum"/>). Immutable; a wash costs the same however long the history is.
/// </summary>
/// <param name="Rate">How many washes were compared or learnt from, and since when.</param>
/// <param name="Programmes">How long each programme takes since the chart began.</param>
/// <param name="Longer">The sum that grows when washes take longer, in eighths of a standard deviation.</param>
/// <param name="Shorter">The sum that grows when washes take less time.</param>
/// <param name="StoodFor">Washes compared since a standing sign was called.</param>
public sealed record DurationChart(
    WashRate Rate, IReadOnlyList<ProgrammeDurations> Programmes, SignSum Longer, SignSum Shorter, int StoodFor)
{
    /// <summary>Units of the sums in a standard deviation.</summary>
    public const int UnitsPerDeviation = 8;

    private const int Allowance = UnitsPerDeviation / 2;
    private const int LargestUnits = (int)(ProgrammeDurations.LargestScore * UnitsPerDeviation);

    private static readonly (int Step, double Chance)[] SoundSteps = [.. StepsAt(0)];
    private static readonly ConcurrentDictionary<double, (int Limit, double RunLength)> Designs = new();

    /// <summary>Before any wash.</summary>
    public static DurationChart Blank { get; } = new(WashRate.None, [], SignSum.Blank, SignSum.Blank, 0);

    /// <summary>Whether a wash of some programme can be compared.</summary>
    public bool IsCharted => Programmes.Any(one => one.IsKnown);

    /// <summary>The steps of a sum and their chances when the mean has moved.</summary>
    /// <param name="shift">By how many standard deviations the mean has moved in the direction in which the sum grows.</param>
    public static IEnumerable<(int Step, double Chance)> StepsAt(double shift)
    {
        double Below(double units) => Normal.CDF(0, 1, (units / UnitsPerDeviation) - shift);
        for (int units = -LargestUnits; units <= LargestUnits; units++)
        {
            double lower = units == -LargestUnits ? 0 : Below(units - 0.5);
            double upper = units == LargestUnits ? 1 : Below(units + 0.5);
            yield return (units - Allowance, upper - lower);
        }
    }

    internal DurationChart Add(string programme, double minutes, Instant at, EarlySignOptions options)
    {
        ProgrammeDurations known = Programmes.FirstOrDefault(one => one.Programme == programme) ?? ProgrammeDurations.Begin(programme);
        DurationChart counted = this with { Rate = Rate.Add(at) };
        if (!known.IsKnown)
        {
            return counted.With(known.LearnFirst(minutes, options.FirstOfProgramme));
        }

        DurationChart designed = counted.Design(options);
        double score = known.Score(minutes);
        int units = (int)Math.Round(score * UnitsPerDeviation, MidpointRounding.AwayFromZero);
        DurationChart charted = designed with
        {
            Longer = designed.Longer.Add(units - Allowance, at, minutes, known.Mean),
            Shorter = designed.Shorter.Add(-units - Allowance, at, minutes, known.Mean),
        };

        bool stood = designed.Longer.IsCalled || designed.Shorter.IsCalled;
        bool stands = charted.Longer.IsCalled || charted.Shorter.IsCalled;
        return (stood, stands) switch
        {
            (_, true) when StoodFor + 1 >= options.UsualAfterWashes => charted.Begin(at, SignEnd.Usual),

            // What stands under a sign is not learnt: it would become the measure that it is held against.
            (_, true) => charted with { StoodFor = StoodFor + 1 },

            // A false alarm comes of a mean that was learnt too low or too high: keeping it would soon raise the next one.
            (true, false) => charted.Begin(at, SignEnd.Better),
            _ => charted.With(known.Learn(minutes, score)),
        };
    }

    /// <summary>Sums and baselines begin anew.</summary>
    internal DurationChart Begin(Instant at, SignEnd how) =>
        this with { Programmes = [], Longer = Longer.Begin(at, how), Shorter = Shorter.Begin(at, how), StoodFor = 0 };

    private DurationChart Design(EarlySignOptions options)
    {
        if (Longer.Value + Shorter.Value > 0)
        {
            return this;
        }

        // Half of the false alarms to each side.
        (int limit, double runLength) = Designs.GetOrAdd(
            Rate.DesignPerYear / (options.FalseAlarmsPerYear / 2), washes => LatticeCusum.Design(SoundSteps, washes));
        return this with
        {
            Longer = Longer with { Limit = limit, WashesBetweenFalseAlarms = runLength },
            Shorter = Shorter with { Limit = limit, WashesBetweenFalseAlarms = runLength },
        };
    }

    private DurationChart With(ProgrammeDurations programme) =>
        this with { Programmes = [.. Programmes.Where(one => one.Programme != programme.Programme), programme] };
}
