namespace Washwear.Api.Ingest;

/// <summary>An expanded body up to a limit, whose faults are told so that the sender can mend them.</summary>
/// <param name="expanded">What expands.</param>
/// <param name="source">What it expands.</param>
/// <param name="coding">Name of the coding.</param>
/// <param name="limitBytes">Most bytes that may come out.</param>
internal sealed class ExpandedStream(Stream expanded, CompressedSource source, string coding, long limitBytes) : ReadStream
{
    private long _length;

    /// <inheritdoc/>
    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
    {
        int count = await ExpandAsync(buffer, cancellationToken);
        _length += count;
        if (_length > limitBytes)
        {
            throw new UnreadableBodyException(
                "expanded_too_large",
                $"The body expands to more than {limitBytes / (1024 * 1024)} MiB, the limit (setting expanded_limit_mib).",
                "Send it in several smaller requests.");
        }

        if (count == 0 && await source.HasMoreAsync(cancellationToken))
        {
            throw new UnreadableBodyException(
                "coding", $"Something follows the end of the {coding} data.", "Compress the whole body at once and send nothing behind it.");
        }

        return count;
    }

    private async ValueTask<int> ExpandAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        try
        {
            return await expanded.ReadAsync(buffer, cancellationToken);
        }
        catch (Exception error) when (error is InvalidDataException or InvalidOperationException)
        {
            throw new UnreadableBodyException(
                "coding",
                $"The body is no whole {coding} data: it is damaged or breaks off.",
                "Compress it anew and send all of it, or send it without Content-Encoding.");
        }
    }
}
