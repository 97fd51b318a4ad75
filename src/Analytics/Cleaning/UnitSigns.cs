using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Running state of one unit's charts of early signs, each against the unit's own history. Fold washes and restarts in, in the order of time,
/// restarts first where they fall together; a part that was changed or a visit that ended restarts the charts. Immutable, and small: a fold
/// costs the same however long the history is. What comes late needs the fold from the begin.
/// </summary>
/// <param name="FoldedTo">Instant of the last event folded in; null before the first.</param>
/// <param name="BeganAt">When the charts last began anew; null: never.</param>
/// <param name="Bad">Washes that a fault stopped or that left detergent.</param>
/// <param name="Durations">Durations of completed washes.</param>
public sealed record UnitSigns(Instant? FoldedTo, Instant? BeganAt, BadWashChart Bad, DurationChart Durations)
{
    /// <summary>Before any event.</summary>
    public static UnitSigns Blank { get; } = new(null, null, BadWashChart.Blank, DurationChart.Blank);

    /// <summary>Whether any sign stands.</summary>
    public bool AnyStands => Bad.Sum.IsCalled || Durations.Longer.IsCalled || Durations.Shorter.IsCalled;

    /// <summary>A state from the bytes of <see cref="ToBytes"/>.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <exception cref="FormatException">They are not such bytes.</exception>
    public static UnitSigns FromBytes(ReadOnlySpan<byte> bytes) => UnitSignsCodec.Read(bytes);

    /// <summary>The state in a compact form, from which it is read back to the last bit; equal states give equal bytes.</summary>
    public byte[] ToBytes() => UnitSignsCodec.Write(this);

    /// <summary>Folds a wash in.</summary>
    /// <param name="wash">The wash, not before <see cref="FoldedTo"/>.</param>
    /// <param name="options">What counts as a sign.</param>
    /// <exception cref="ArgumentOutOfRangeException">The wash lies before what was folded in, or an option outside its range.</exception>
    public UnitSigns Add(ObservedWash wash, EarlySignOptions options)
    {
        options.Require();
        return Upto(wash.StartedAt) with
        {
            Bad = wash.IsBad is { } bad ? Bad.Add(bad, wash.StartedAt, options) : Bad,
            Durations = wash.Minutes is { } minutes ? Durations.Add(wash.Programme, minutes, wash.StartedAt, options) : Durations,
        };
    }

    /// <summary>Something was mended, or looked at and found well: the charts begin anew.</summary>
    /// <param name="at">When, not before <see cref="FoldedTo"/>.</param>
    /// <param name="options">What counts as a sign.</param>
    /// <exception cref="ArgumentOutOfRangeException">It lies before what was folded in, or an option outside its range.</exception>
    public UnitSigns Restart(Instant at, EarlySignOptions options)
    {
        options.Require();
        return Upto(at) with { BeganAt = at, Bad = Bad.Restart(at, options), Durations = Durations.Begin(at, SignEnd.Mended) };
    }

    private UnitSigns Upto(Instant at) => FoldedTo > at
        ? throw new ArgumentOutOfRangeException(nameof(at), at, $"Events up to {FoldedTo} are folded in already.")
        : this with { FoldedTo = at };
}
