using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Ingest;

namespace Washwear.Api.Tests.Ingest;

/// <summary>Holds the one write transaction, as a slow disk would, until it is let go of: what is sent meanwhile has to wait.</summary>
internal sealed class HeldWriter : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private readonly TaskCompletionSource _goOn;
    private readonly IngestService _ingest;
    private readonly Task _holding;

    private HeldWriter(ApiHost host, Task holding, TaskCompletionSource goOn)
    {
        _ingest = host.Services.GetRequiredService<IngestService>();
        _holding = holding;
        _goOn = goOn;
    }

    /// <summary>Begins to hold.</summary>
    /// <param name="host">The program.</param>
    public static async Task<HeldWriter> HoldAsync(ApiHost host)
    {
        var began = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var goOn = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        Task holding = host.Database.WriteAsync(
            async _ =>
            {
                began.TrySetResult();
                await goOn.Task;
            },
            CancellationToken.None);
        await began.Task;
        return new HeldWriter(host, holding, goOn);
    }

    /// <summary>Waits until the load is what a test needs.</summary>
    /// <param name="isReached">What it needs.</param>
    public async Task<IngestLoad> WhenAsync(Func<IngestLoad, bool> isReached)
    {
        using var patience = new CancellationTokenSource(Patience);
        while (!isReached(_ingest.Load))
        {
            Assert.False(patience.IsCancellationRequested, $"never reached; at last {_ingest.Load}");
            await Task.Delay(10);
        }

        return _ingest.Load;
    }

    /// <summary>Lets go.</summary>
    public Task LetGoAsync()
    {
        _goOn.TrySetResult();
        return _holding;
    }

    public async ValueTask DisposeAsync() => await LetGoAsync();
}
