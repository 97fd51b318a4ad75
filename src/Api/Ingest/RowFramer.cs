using System.Buffers;
using System.IO.Pipelines;
using System.Runtime.CompilerServices;

namespace Washwear.Api.Ingest;

/// <summary>One row of a body as it came.</summary>
/// <param name="Number">Its place among the rows, from 1.</param>
/// <param name="Text">Its bytes; only the first ones of a row that is too long.</param>
/// <param name="TooLong">Whether it is longer than the limit.</param>
internal sealed record RawRow(int Number, byte[] Text, bool TooLong);

/// <summary>Cuts a body into rows as it arrives. Never holds more than one row, and of that one no more than the limit.</summary>
/// <param name="boundary">Where rows end.</param>
/// <param name="maxRowBytes">Longest row that is kept whole, bytes.</param>
internal sealed class RowFramer(RowBoundary boundary, int maxRowBytes)
{
    // Room for most rows; it grows for the others.
    private const int FirstBytes = 256;

    private readonly ArrayBufferWriter<byte> _row = new(FirstBytes);
    private bool _tooLong;
    private int _number;

    /// <summary>The rows, in order. A last row that the end of the body cut short is given as well.</summary>
    /// <param name="body">The body; read to its end, or up to where it cannot be read.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async IAsyncEnumerable<RawRow> ReadAsync(PipeReader body, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        while (boundary.Broken is null)
        {
            ReadResult read = await body.ReadAsync(cancellationToken);
            try
            {
                foreach (ReadOnlyMemory<byte> segment in read.Buffer)
                {
                    ReadOnlyMemory<byte> rest = segment;
                    while (!rest.IsEmpty)
                    {
                        Cut cut = boundary.Next(rest.Span);
                        Keep(rest.Span.Slice(cut.Skip, cut.Take));
                        rest = rest[(cut.Skip + cut.Take + cut.Drop)..];
                        if (cut.Ends)
                        {
                            yield return Finished();
                        }
                    }
                }
            }
            finally
            {
                // Also where the rows are not wanted any more: the server must be able to read the rest of the request away.
                body.AdvanceTo(read.Buffer.End);
            }

            if (read.IsCompleted)
            {
                boundary.End();
                break;
            }
        }

        if (_row.WrittenCount > 0)
        {
            yield return Finished();
        }
    }

    private void Keep(ReadOnlySpan<byte> bytes)
    {
        int room = maxRowBytes - _row.WrittenCount;
        _tooLong |= bytes.Length > room;
        _row.Write(bytes[..Math.Min(bytes.Length, room)]);
    }

    private RawRow Finished()
    {
        var row = new RawRow(++_number, _row.WrittenSpan.ToArray(), _tooLong);
        _row.ResetWrittenCount();
        _tooLong = false;
        return row;
    }
}
