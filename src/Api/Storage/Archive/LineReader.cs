using System.Buffers;
using System.IO.Pipelines;
using System.Runtime.CompilerServices;

namespace Washwear.Api.Storage.Archive;

/// <summary>Reads a stream line by line, as bytes.</summary>
internal static class LineReader
{
    private const byte LineEnd = (byte)'\n';

    /// <summary>The lines without their ends; each is good until the next is asked for.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="InvalidDataException">The last line has no end.</exception>
    public static async IAsyncEnumerable<ReadOnlyMemory<byte>> ReadAsync(
        Stream stream, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        PipeReader pipe = PipeReader.Create(stream, new StreamPipeReaderOptions(bufferSize: 1 << 16));
        while (true)
        {
            ReadResult read = await pipe.ReadAsync(cancellationToken);
            ReadOnlySequence<byte> rest = read.Buffer;
            while (rest.PositionOf(LineEnd) is { } end)
            {
                ReadOnlySequence<byte> line = rest.Slice(0, end);
                yield return line.IsSingleSegment ? line.First : line.ToArray();
                rest = rest.Slice(rest.GetPosition(1, end));
            }

            if (read.IsCompleted)
            {
                if (!rest.IsEmpty)
                {
                    throw new InvalidDataException("Its last line is cut.");
                }

                await pipe.CompleteAsync();
                yield break;
            }

            pipe.AdvanceTo(rest.Start, rest.End);
        }
    }
}
