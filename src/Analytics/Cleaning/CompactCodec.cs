using System.Buffers;
using System.Buffers.Binary;
using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Writes numbers, dates and instants in few bytes: whole numbers seven bits a byte, negative ones folded in between; instants as the
/// distance from the one written before, in milliseconds where they are whole ones.
/// </summary>
internal sealed class CompactWriter
{
    private readonly ArrayBufferWriter<byte> _bytes = new(256);
    private long _lastTicks;

    public byte[] ToArray() => _bytes.WrittenSpan.ToArray();

    public void Number(long value)
    {
        ulong folded = unchecked((ulong)((value << 1) ^ (value >> 63)));
        Span<byte> target = _bytes.GetSpan(10);
        int length = 0;
        while (folded >= 0x80)
        {
            target[length++] = unchecked((byte)(folded | 0x80));
            folded >>= 7;
        }

        target[length++] = (byte)folded;
        _bytes.Advance(length);
    }

    public void Fraction(double value)
    {
        BinaryPrimitives.WriteDoubleLittleEndian(_bytes.GetSpan(sizeof(double)), value);
        _bytes.Advance(sizeof(double));
    }

    public void Text(string value)
    {
        int length = System.Text.Encoding.UTF8.GetByteCount(value);
        Number(length);
        _bytes.Advance(System.Text.Encoding.UTF8.GetBytes(value, _bytes.GetSpan(length)));
    }

    public void At(Instant at) => Ticks(at.ToUnixTimeTicks());

    public void Ticks(long ticks)
    {
        long distance = ticks - _lastTicks;
        bool whole = distance % NodaConstants.TicksPerMillisecond == 0;
        Number(whole ? distance / NodaConstants.TicksPerMillisecond * 2 : (distance * 2) + 1);
        _lastTicks = ticks;
    }

    public void MaybeAt(Instant? at)
    {
        Number(at is null ? 0 : 1);
        if (at is { } known)
        {
            At(known);
        }
    }

    public void Day(LocalDate date) => Number(Period.DaysBetween(LocalDate.MinIsoValue, date));

    public void All<T>(IReadOnlyCollection<T> items, Action<T> write)
    {
        Number(items.Count);
        foreach (T item in items)
        {
            write(item);
        }
    }
}

/// <summary>Reads what <see cref="CompactWriter"/> wrote, in the same order.</summary>
internal ref struct CompactReader(ReadOnlySpan<byte> bytes)
{
    private readonly ReadOnlySpan<byte> _bytes = bytes;
    private int _next;
    private long _lastTicks;

    public readonly bool AtEnd => _next == _bytes.Length;

    public long Number()
    {
        ulong folded = 0;
        for (int shift = 0; ; shift += 7)
        {
            byte one = _bytes[_next++];
            folded |= (ulong)(one & 0x7F) << shift;
            if (one < 0x80)
            {
                return (long)(folded >> 1) ^ -(long)(folded & 1);
            }
        }
    }

    public double Fraction()
    {
        _next += sizeof(double);
        return BinaryPrimitives.ReadDoubleLittleEndian(_bytes[(_next - sizeof(double))..]);
    }

    public string Text()
    {
        int length = (int)Number();
        _next += length;
        return System.Text.Encoding.UTF8.GetString(_bytes.Slice(_next - length, length));
    }

    public Instant At() => Instant.FromUnixTimeTicks(Ticks());

    public long Ticks()
    {
        long written = Number();
        _lastTicks += (written & 1) == 0 ? written / 2 * NodaConstants.TicksPerMillisecond : (written - 1) / 2;
        return _lastTicks;
    }

    public Instant? MaybeAt() => Number() == 0 ? null : At();

    public LocalDate Day() => LocalDate.MinIsoValue.PlusDays((int)Number());
}
