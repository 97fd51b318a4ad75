using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Washwear.Benchmarks.Ingest;

/// <summary>A kept HTTP/1.1 connection that costs the measuring side little: whole requests as bytes go out, of the answer only status and end
/// are looked at. Not safe for concurrent use.</summary>
internal sealed class RawConnection : IDisposable
{
    private static readonly byte[] HeadEnd = "\r\n\r\n"u8.ToArray();
    private static readonly byte[] LastChunk = "\r\n0\r\n\r\n"u8.ToArray();
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
    private readonly byte[] _answer = new byte[16 * 1024];
    private int _length;

    private RawConnection()
    {
    }

    /// <summary>Text of the last answer, head included.</summary>
    public string Text => Encoding.UTF8.GetString(_answer, 0, _length);

    /// <summary>Connects.</summary>
    /// <param name="address">The server.</param>
    public static async Task<RawConnection> OpenAsync(Uri address)
    {
        var connection = new RawConnection();
        await connection._socket.ConnectAsync(IPAddress.Parse(address.Host), address.Port);
        return connection;
    }

    /// <summary>A whole request.</summary>
    /// <param name="path">Path.</param>
    /// <param name="body">A JSON body.</param>
    public static byte[] Post(string path, string body) => Encoding.UTF8.GetBytes(string.Create(
        CultureInfo.InvariantCulture,
        $"POST {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nAuthorization: {ServerProcess.Authorization}\r\nContent-Type: application/json\r\nContent-Length: {Encoding.UTF8.GetByteCount(body)}\r\n\r\n{body}"));

    /// <summary>Sends a request and waits for the whole answer.</summary>
    /// <param name="request">The request.</param>
    /// <returns>The status.</returns>
    public async Task<int> SendAsync(byte[] request)
    {
        await _socket.SendAsync(request);
        _length = 0;
        do
        {
            int read = await _socket.ReceiveAsync(_answer.AsMemory(_length));
            _length += read > 0 ? read : throw new InvalidOperationException("The server closed the connection.");
        }
        while (!IsWhole(_answer.AsSpan(0, _length)));
        return int.Parse(_answer.AsSpan(9, 3), CultureInfo.InvariantCulture);
    }

    public void Dispose() => _socket.Dispose();

    private static bool IsWhole(ReadOnlySpan<byte> answer)
    {
        int head = answer.IndexOf(HeadEnd);
        if (head < 0)
        {
            return false;
        }

        const string Length = "\r\nContent-Length: ";
        string headers = Encoding.ASCII.GetString(answer[..head]);
        int place = headers.IndexOf(Length, StringComparison.OrdinalIgnoreCase);
        if (place < 0)
        {
            return answer[head..].EndsWith(LastChunk);
        }

        string digits = headers[(place + Length.Length)..].Split('\r')[0];
        return answer.Length - head - HeadEnd.Length >= int.Parse(digits, CultureInfo.InvariantCulture);
    }
}
