using System.Collections.Immutable;
using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>The compact form of a clock's state.</summary>
internal static class RuleClockCodec
{
    public static void Write(CompactWriter writer, RuleClockState state)
    {
        writer.MaybeAt(state.Now);
        writer.MaybeAt(state.ServiceStart);
        Write(writer, state.Unit);
        writer.Number(state.Open is null ? 0 : 1);
        if (state.Open is { } open)
        {
            Write(writer, open);
        }

        writer.Number(state.Cause is { } cause ? (long)cause + 1 : 0);
        writer.MaybeAt(state.Since);
        writer.MaybeAt(state.SilenceEndedAt);
    }

    public static RuleClockState Read(ref CompactReader reader)
    {
        (Instant? now, Instant? service) = (reader.MaybeAt(), reader.MaybeAt());
        UnitWorkState unit = ReadUnit(ref reader);
        OpenWashes? open = reader.Number() == 0 ? null : ReadWashes(ref reader);
        long cause = reader.Number();
        return new RuleClockState(
            now, service, unit, open, cause == 0 ? null : (Cause)(cause - 1), reader.MaybeAt(), reader.MaybeAt());
    }

    private static void Write(CompactWriter writer, UnitWorkState unit)
    {
        writer.MaybeAt(unit.LastHeardAt);
        writer.All(unit.Lockouts, lockout =>
        {
            writer.Text(lockout.Code);
            writer.At(lockout.RaisedAt);
        });
        writer.Number(unit.OnSite);
        writer.MaybeAt(unit.LastStep?.At);
        writer.Number((long)(unit.LastStep?.WaitsFor ?? default));
        writer.MaybeAt(unit.LastAttempt?.At);
        writer.Number(unit.LastAttempt is { Counted: true } ? 1 : 0);
        writer.Number((long)(unit.LastAttempt?.Outcome ?? default));
        writer.MaybeAt(unit.LastCountedWashEnd);
        writer.MaybeAt(unit.RanItselfAt);
    }

    private static UnitWorkState ReadUnit(ref CompactReader reader)
    {
        Instant? heard = reader.MaybeAt();
        var lockouts = new StandingLockout[reader.Number()];
        for (int i = 0; i < lockouts.Length; i++)
        {
            lockouts[i] = new StandingLockout(reader.Text(), reader.At());
        }

        int onSite = (int)reader.Number();
        (Instant? stepAt, var waits) = (reader.MaybeAt(), (Cause)reader.Number());
        (Instant? triedAt, bool counted, var outcome) = (reader.MaybeAt(), reader.Number() != 0, (WashOutcome)reader.Number());
        return new UnitWorkState(
            heard, ImmutableArray.Create(lockouts), onSite,
            stepAt is { } step ? new RepairStep(step, waits) : null,
            triedAt is { } tried ? new Attempt(tried, counted, outcome) : null,
            reader.MaybeAt(),
            reader.MaybeAt());
    }

    private static void Write(CompactWriter writer, OpenWashes open)
    {
        writer.Number(open.OldestOverdue is null ? 0 : 1);
        if (open.OldestOverdue is { } oldest)
        {
            Write(writer, oldest);
        }

        writer.Number(open.Missed ? 1 : 0);
        writer.All(open.Pending, wash => Write(writer, wash));
        writer.At(open.Counter.Since);
        writer.Fraction(open.Counter.Gathered);
        writer.Number(open.Counter.LastReading is null ? 0 : 1);
        writer.Fraction(open.Counter.LastReading ?? 0);
    }

    private static OpenWashes ReadWashes(ref CompactReader reader)
    {
        DueWash? oldest = reader.Number() == 0 ? null : ReadDue(ref reader);
        bool missed = reader.Number() != 0;
        var pending = new DueWash[reader.Number()];
        for (int i = 0; i < pending.Length; i++)
        {
            pending[i] = ReadDue(ref reader);
        }

        (Instant since, double gathered) = (reader.At(), reader.Fraction());
        bool known = reader.Number() != 0;
        double reading = reader.Fraction();
        return new OpenWashes(oldest, missed, pending, new Counter(since, gathered, known ? reading : null));
    }

    private static void Write(CompactWriter writer, DueWash wash)
    {
        writer.Day(wash.Day);
        writer.At(wash.Start);
        writer.At(wash.Due);
        writer.At(wash.Deadline);
    }

    private static DueWash ReadDue(ref CompactReader reader) => new(reader.Day(), reader.At(), reader.At(), reader.At());
}
