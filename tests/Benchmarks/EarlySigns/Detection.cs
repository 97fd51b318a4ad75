using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Projections;

namespace Washwear.Benchmarks.EarlySigns;

/// <summary>What the charts of one unit called, held against the truth.</summary>
internal sealed class Detection
{
    // A clock that runs off, and a wash that was reported by its start.
    private static readonly Duration Slack = Duration.FromHours(12);

    private readonly List<Interval> _troubled = [];

    /// <summary>Days from the call to each lockout by a weak pump; 0: it was not called before.</summary>
    public List<double> DaysAhead { get; } = [];

    /// <summary>Calls while nothing was weak or failed.</summary>
    public List<SignKind> FalseCalls { get; } = [];

    /// <summary>Calls while something was.</summary>
    public List<SignKind> TrueCalls { get; } = [];

    /// <summary>False calls that the charts stated for the sound time, by kind.</summary>
    public double[] Stated { get; } = new double[3];

    /// <summary>Sound time during which bad washes were charted, years.</summary>
    public double SoundYears { get; private set; }

    public static Detection Of(UnitTruth truth, IEnumerable<IncomingRecord> records)
    {
        var detection = new Detection();
        detection._troubled.AddRange(Troubles(truth));
        List<(SignKind Kind, Instant At, Instant End)> calls = detection.Fold(records);
        foreach ((SignKind kind, Instant at, _) in calls)
        {
            (detection.IsTroubled(at) ? detection.TrueCalls : detection.FalseCalls).Add(kind);
        }

        foreach (PartLifeTruth pump in truth.Lives.Where(life => life.Position == "wash-pump" && life.FailedAt is not null && life.WeakAt is not null))
        {
            var failed = Instant.FromDateTimeOffset(pump.FailedAt!.Value);
            Instant weak = Instant.FromDateTimeOffset(pump.WeakAt!.Value) - Slack;
            if (truth.Lockouts.Any(lockout => lockout.Position == "wash-pump" && lockout.RaisedAt >= pump.FailedAt.Value.AddHours(-1)
                && lockout.RaisedAt <= pump.FailedAt.Value.AddDays(2)))
            {
                Instant? first = calls.Where(call => call.At < failed && call.End > failed - Duration.FromHours(12) && call.At >= weak)
                    .Select(call => (Instant?)call.At).Min();
                detection.DaysAhead.Add(first is { } called ? (failed - called).TotalDays : 0);
            }
        }

        return detection;
    }

    private List<(SignKind Kind, Instant At, Instant End)> Fold(IEnumerable<IncomingRecord> records)
    {
        var calls = new List<(SignKind Kind, Instant At, Instant End)>();
        UnitSigns signs = UnitSigns.Blank;
        Instant? before = null;
        foreach (SignEvent happened in records.SelectMany(SignEvents.Of).OrderBy(one => one, SignEvents.Order))
        {
            UnitSigns next = happened.FoldInto(signs);
            Note(signs, next, happened.At, before, calls);
            (signs, before) = (next, happened.At);
        }

        return [.. calls.Select(call => call.End == Instant.MinValue ? call with { End = Instant.MaxValue } : call)];
    }

    private void Note(UnitSigns signs, UnitSigns next, Instant at, Instant? before, List<(SignKind Kind, Instant At, Instant End)> calls)
    {
        bool sound = before is not null && !IsTroubled(at);
        SoundYears += sound && signs.Bad.Sum.Limit > 0 ? (at - before!.Value).TotalDays / 365.25 : 0;
        SignSum[] was = [signs.Bad.Sum, signs.Durations.Longer, signs.Durations.Shorter];
        SignSum[] now = [next.Bad.Sum, next.Durations.Longer, next.Durations.Shorter];
        for (int kind = 0; kind < was.Length; kind++)
        {
            bool charted = kind == 0 ? next.Bad.Rate != signs.Bad.Rate : next.Durations.Rate != signs.Durations.Rate && signs.Durations.IsCharted;
            Stated[kind] += sound && charted && was[kind] is { Limit: > 0, IsCalled: false } ? 1 / was[kind].WashesBetweenFalseAlarms : 0;
            if (now[kind].IsCalled && !was[kind].IsCalled)
            {
                calls.Add(((SignKind)kind, at, Instant.MinValue));
            }
            else if (was[kind].IsCalled && !now[kind].IsCalled)
            {
                int open = calls.FindLastIndex(call => call.Kind == (SignKind)kind && call.End == Instant.MinValue);
                calls[open] = calls[open] with { End = at };
            }
        }
    }

    private bool IsTroubled(Instant at) => _troubled.Exists(trouble => trouble.Contains(at));

    // From the first weak wash, or the failure, to the removal.
    private static IEnumerable<Interval> Troubles(UnitTruth truth) => truth.Lives
        .Select(life => (Begin: life.WeakAt ?? life.FailedAt, End: life.RemovedAt))
        .Where(life => life.Begin is not null)
        .Select(life => new Interval(
            Instant.FromDateTimeOffset(life.Begin!.Value) - Slack,
            life.End is { } end ? Instant.FromDateTimeOffset(end) + Slack : Instant.MaxValue));
}
