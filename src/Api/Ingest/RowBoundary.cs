namespace Washwear.Api.Ingest;

/// <summary>How to cut the next bytes of a body.</summary>
/// <param name="Skip">Bytes before the row that belong to no row.</param>
/// <param name="Take">Bytes that belong to the row.</param>
/// <param name="Drop">Bytes behind the row that belong to no row.</param>
/// <param name="Ends">Whether the row ends there.</param>
internal readonly record struct Cut(int Skip, int Take, int Drop, bool Ends);

/// <summary>Finds where rows end, byte by byte over chunks of any size, so that a row of any length can be passed over.</summary>
internal abstract class RowBoundary
{
    /// <summary>What makes the rest of the body unreadable; null: nothing so far.</summary>
    public string? Broken { get; protected set; }

    /// <summary>Cuts the next bytes. The whole chunk is used up unless the row ends in it.</summary>
    /// <param name="chunk">The bytes.</param>
    public abstract Cut Next(ReadOnlySpan<byte> chunk);

    /// <summary>Says that the body has ended; sets <see cref="Broken"/> if it should not have.</summary>
    public abstract void End();
}

/// <summary>Rows are lines.</summary>
internal sealed class LineBoundary : RowBoundary
{
    private const byte LineFeed = (byte)'\n';

    /// <inheritdoc/>
    public override Cut Next(ReadOnlySpan<byte> chunk)
    {
        int end = chunk.IndexOf(LineFeed);
        return end < 0 ? new Cut(0, chunk.Length, 0, false) : new Cut(0, end, 1, true);
    }

    /// <inheritdoc/>
    public override void End()
    {
    }
}

/// <summary>The body is one row.</summary>
internal sealed class WholeBody : RowBoundary
{
    /// <inheritdoc/>
    public override Cut Next(ReadOnlySpan<byte> chunk) => new(0, chunk.Length, 0, false);

    /// <inheritdoc/>
    public override void End()
    {
    }
}

/// <summary>Rows are CSV records as RFC 4180 has them: a line feed inside double quotes does not end one.</summary>
internal sealed class CsvBoundary : RowBoundary
{
    private bool _cellStarts = true;
    private bool _quoted;
    private bool _quoteJustClosed;

    /// <inheritdoc/>
    public override Cut Next(ReadOnlySpan<byte> chunk)
    {
        for (int index = 0; index < chunk.Length; index++)
        {
            byte current = chunk[index];
            if (_quoted)
            {
                _quoted = current != '"';
                _quoteJustClosed = !_quoted;
                continue;
            }

            if (current == '\n')
            {
                _cellStarts = true;
                _quoteJustClosed = false;
                return new Cut(0, index, 1, true);
            }

            _quoted = current == '"' && (_cellStarts || _quoteJustClosed);
            _quoteJustClosed = false;
            _cellStarts = current is (byte)',' or (byte)';' or (byte)'\t';
        }

        return new Cut(0, chunk.Length, 0, false);
    }

    /// <inheritdoc/>
    public override void End()
    {
    }
}
