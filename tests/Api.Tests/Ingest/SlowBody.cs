using System.Net;
using System.Net.Http.Headers;
using System.Text;

namespace Washwear.Api.Tests.Ingest;

/// <summary>NDJSON of unknown length that is sent in two parts, the second when the test says so.</summary>
internal sealed class SlowBody : HttpContent
{
    private readonly TaskCompletionSource _goOn = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly string _first;
    private readonly string _second;

    public SlowBody(string first, string second)
    {
        _first = first;
        _second = second;
        Headers.ContentType = new MediaTypeHeaderValue("application/x-ndjson");
    }

    /// <summary>Sends the second part.</summary>
    public void GoOn() => _goOn.TrySetResult();

    protected override Task SerializeToStreamAsync(Stream stream, TransportContext? context) =>
        SerializeToStreamAsync(stream, context, CancellationToken.None);

    protected override async Task SerializeToStreamAsync(Stream stream, TransportContext? context, CancellationToken cancellationToken)
    {
        await stream.WriteAsync(Encoding.UTF8.GetBytes(_first), cancellationToken);
        await stream.FlushAsync(cancellationToken);
        await _goOn.Task.WaitAsync(cancellationToken);
        await stream.WriteAsync(Encoding.UTF8.GetBytes(_second), cancellationToken);
    }

    protected override bool TryComputeLength(out long length)
    {
        length = 0;
        return false;
    }
}
