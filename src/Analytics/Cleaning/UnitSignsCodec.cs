namespace Washwear.Analytics.Cleaning;

/// <summary>The state of a unit's charts in few bytes; what is written is read back to the last bit.</summary>
internal static class UnitSignsCodec
{
    // Counts are mostly whole numbers: those take a few bytes, others this mark and their eight.
    private const long IsFraction = 1;
    private const double LargestWhole = 1L << 40;

    /// <summary>Writes a state.</summary>
    /// <param name="signs">The state.</param>
    public static byte[] Write(UnitSigns signs)
    {
        var writer = new CompactWriter();
        writer.MaybeAt(signs.FoldedTo);
        writer.MaybeAt(signs.BeganAt);
        Write(writer, signs.Bad.Rate);
        Fraction(writer, signs.Bad.BaselineWashes);
        Fraction(writer, signs.Bad.BaselineBad);
        Fraction(writer, signs.Bad.BaseShare);
        writer.Number(signs.Bad.StepsPerBadWash);
        Write(writer, signs.Bad.Sum);
        Write(writer, signs.Durations.Rate);
        writer.All(signs.Durations.Programmes, one => Write(writer, one));
        Write(writer, signs.Durations.Longer);
        Write(writer, signs.Durations.Shorter);
        writer.Number(signs.Durations.StoodFor);
        return writer.ToArray();
    }

    /// <summary>Reads a state.</summary>
    /// <param name="bytes">What was written.</param>
    /// <exception cref="FormatException">It is not what was written.</exception>
    public static UnitSigns Read(ReadOnlySpan<byte> bytes)
    {
        try
        {
            var reader = new CompactReader(bytes);
            var signs = new UnitSigns(reader.MaybeAt(), reader.MaybeAt(), ReadBad(ref reader), ReadDurations(ref reader));
            return reader.AtEnd ? signs : throw new FormatException("More follows than a state has.");
        }
        catch (Exception error) when (error is IndexOutOfRangeException or ArgumentException or OverflowException)
        {
            throw new FormatException("This is no state.", error);
        }
    }

    private static BadWashChart ReadBad(ref CompactReader reader) => new(
        ReadRate(ref reader), Fraction(ref reader), Fraction(ref reader), Fraction(ref reader), checked((int)reader.Number()), ReadSum(ref reader));

    private static DurationChart ReadDurations(ref CompactReader reader)
    {
        WashRate rate = ReadRate(ref reader);
        var programmes = new List<ProgrammeDurations>();
        for (long left = reader.Number(); left > 0; left--)
        {
            programmes.Add(new ProgrammeDurations(
                reader.Text(), ReadFirst(ref reader), checked((int)reader.Number()), Fraction(ref reader), Fraction(ref reader)));
        }

        return new DurationChart(rate, programmes, ReadSum(ref reader), ReadSum(ref reader), checked((int)reader.Number()));
    }

    private static void Write(CompactWriter writer, WashRate rate)
    {
        writer.Number(rate.Washes);
        writer.MaybeAt(rate.FirstAt);
        writer.MaybeAt(rate.LastAt);
    }

    private static WashRate ReadRate(ref CompactReader reader) => new(checked((int)reader.Number()), reader.MaybeAt(), reader.MaybeAt());

    private static void Write(CompactWriter writer, ProgrammeDurations programme)
    {
        writer.Text(programme.Programme);
        writer.Number(programme.First is { } first ? first.Count + 1 : 0);
        foreach (double minutes in programme.First ?? [])
        {
            Fraction(writer, minutes);
        }

        writer.Number(programme.Count);
        Fraction(writer, programme.Mean);
        Fraction(writer, programme.SquaredDeviations);
    }

    private static List<double>? ReadFirst(ref CompactReader reader)
    {
        long left = reader.Number();
        if (left == 0)
        {
            return null;
        }

        var first = new List<double>();
        for (; left > 1; left--)
        {
            first.Add(Fraction(ref reader));
        }

        return first;
    }

    private static void Write(CompactWriter writer, SignSum sum)
    {
        writer.Number(sum.Value);
        writer.Number(sum.Limit);
        Fraction(writer, sum.WashesBetweenFalseAlarms);
        writer.MaybeAt(sum.Since);
        writer.MaybeAt(sum.CalledAt);
        writer.Number(sum.Washes);
        Fraction(writer, sum.Seen);
        Fraction(writer, sum.Expected);
        writer.MaybeAt(sum.EndedAt);
        writer.Number(sum.Ended is { } how ? (int)how + 1 : 0);
    }

    private static SignSum ReadSum(ref CompactReader reader) => new(
        checked((int)reader.Number()), checked((int)reader.Number()), Fraction(ref reader), reader.MaybeAt(), reader.MaybeAt(),
        checked((int)reader.Number()), Fraction(ref reader), Fraction(ref reader), reader.MaybeAt(),
        reader.Number() is > 0 and var how ? (SignEnd)(how - 1) : null);

    private static void Fraction(CompactWriter writer, double value)
    {
        if (Math.Abs(value) < LargestWhole && Math.Truncate(value) == value && !(value == 0 && double.IsNegative(value)))
        {
            writer.Number((long)value * 2);
            return;
        }

        writer.Number(IsFraction);
        writer.Fraction(value);
    }

    private static double Fraction(ref CompactReader reader) => reader.Number() is var written && written == IsFraction ? reader.Fraction() : written / 2;
}
