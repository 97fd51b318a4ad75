using System.Net;
using System.Net.Sockets;

namespace Washwear.Browser;

/// <summary>A wire between a browser and the program: bytes go through, until it is cut; then no connection stands and none comes about.</summary>
internal sealed class CuttableWire : IAsyncDisposable
{
    private readonly int _target;
    private readonly List<TcpClient> _ends = [];
    private TcpListener? _listener;
    private Task _accepting = Task.CompletedTask;

    public CuttableWire(Uri target)
    {
        _target = target.Port;
        Mend();
        Address = new Uri($"http://127.0.0.1:{((IPEndPoint)_listener!.LocalEndpoint).Port}/");
    }

    /// <summary>Where the browser goes.</summary>
    public Uri Address { get; }

    /// <summary>Connections that were let through so far.</summary>
    public int Connections { get; private set; }

    /// <summary>Cuts the wire.</summary>
    public void Cut()
    {
        _listener?.Stop();
        _listener = null;
        lock (_ends)
        {
            _ends.ForEach(end => end.Dispose());
            _ends.Clear();
        }
    }

    /// <summary>Mends it, at the same address.</summary>
    public void Mend()
    {
        _listener = new TcpListener(IPAddress.Loopback, Address?.Port ?? 0);
        _listener.Start();
        _accepting = AcceptAsync(_listener);
    }

    public async ValueTask DisposeAsync()
    {
        Cut();
        await _accepting;
    }

    private async Task AcceptAsync(TcpListener listener)
    {
        try
        {
            while (true)
            {
                TcpClient near = await listener.AcceptTcpClientAsync();
                Connections++;
                _ = JoinAsync(near);
            }
        }
        catch (Exception error) when (error is SocketException or ObjectDisposedException or InvalidOperationException)
        {
            // The wire was cut.
        }
    }

    private async Task JoinAsync(TcpClient near)
    {
        var far = new TcpClient();
        lock (_ends)
        {
            _ends.AddRange([near, far]);
        }

        try
        {
            await far.ConnectAsync(IPAddress.Loopback, _target);
            NetworkStream one = near.GetStream();
            NetworkStream other = far.GetStream();
            await Task.WhenAny(one.CopyToAsync(other), other.CopyToAsync(one));
        }
        catch (Exception error) when (error is IOException or SocketException or ObjectDisposedException or InvalidOperationException)
        {
            // One of the ends is gone.
        }
        finally
        {
            near.Dispose();
            far.Dispose();
        }
    }
}
