namespace Washwear.Api.Ingest;

/// <summary>Hands a compressed body to what expands it, its last piece byte by byte, so that it is known whether anything is left over
/// when the compressed data has ended: rows behind it would be lost without a word.</summary>
/// <param name="body">The body.</param>
internal sealed class CompressedSource(Stream body) : ReadStream
{
    private const int PieceBytes = 4096;

    private byte[] _current = new byte[PieceBytes];
    private byte[] _next = new byte[PieceBytes];
    private int _position;
    private int _length;
    private int _nextLength = -1;

    /// <summary>Whether bytes of the body were never asked for.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async ValueTask<bool> HasMoreAsync(CancellationToken cancellationToken) =>
        _position < _length || (_nextLength != 0 && await FillAsync(cancellationToken) > 0);

    /// <inheritdoc/>
    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
    {
        if (_position == _length && await FillAsync(cancellationToken) == 0)
        {
            return 0;
        }

        bool isLastPiece = _nextLength == 0;
        int count = Math.Min(isLastPiece ? 1 : _length - _position, buffer.Length);
        _current.AsMemory(_position, count).CopyTo(buffer);
        _position += count;
        return count;
    }

    // A piece is handed out once it is known whether another one follows.
    private async ValueTask<int> FillAsync(CancellationToken cancellationToken)
    {
        if (_nextLength < 0)
        {
            _nextLength = await body.ReadAtLeastAsync(_next, PieceBytes, throwOnEndOfStream: false, cancellationToken);
        }

        (_current, _next) = (_next, _current);
        (_position, _length) = (0, _nextLength);
        _nextLength = _length == 0 ? 0 : await body.ReadAtLeastAsync(_next, PieceBytes, throwOnEndOfStream: false, cancellationToken);
        return _length;
    }
}
