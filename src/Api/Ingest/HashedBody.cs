using System.Buffers;
using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Washwear.Api.Ingest;

/// <summary>A body that is hashed while it is read, so that nothing of it has to be kept. Not safe for concurrent use.</summary>
/// <param name="body">The body as it comes.</param>
internal sealed class HashedBody(Stream body) : ReadStream
{
    private const int BytesAtOnce = 64 * 1024;
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);

    /// <summary>Hashes a text that belongs to the body.</summary>
    /// <param name="text">The text.</param>
    public void Add(string? text)
    {
        // With its length, neighbouring texts cannot run into each other.
        byte[] bytes = Encoding.UTF8.GetBytes(text ?? string.Empty);
        Span<byte> length = stackalloc byte[sizeof(int)];
        BinaryPrimitives.WriteInt32LittleEndian(length, bytes.Length);
        _hash.AppendData(length);
        _hash.AppendData(bytes);
    }

    /// <summary>Reads what is left of the body and lets go of it.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <returns>SHA-256 of all of it; to be asked for once.</returns>
    /// <exception cref="BadHttpRequestException">The body broke off or is too large.</exception>
    public async Task<byte[]> HashToEndAsync(CancellationToken cancellationToken)
    {
        byte[] buffer = ArrayPool<byte>.Shared.Rent(BytesAtOnce);
        try
        {
            while (await ReadAsync(buffer, cancellationToken) > 0)
            {
            }

            return _hash.GetHashAndReset();
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
        }
    }

    /// <inheritdoc/>
    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
    {
        int read = await body.ReadAsync(buffer, cancellationToken);
        _hash.AppendData(buffer.Span[..read]);
        return read;
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _hash.Dispose();
        }

        base.Dispose(disposing);
    }
}
