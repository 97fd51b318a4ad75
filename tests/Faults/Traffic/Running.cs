namespace Washwear.Faults.Traffic;

/// <summary>Senders that send in the background until they are stopped.</summary>
internal sealed class Running : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _sending;

    /// <summary>Begins.</summary>
    /// <param name="senders">The senders.</param>
    /// <param name="client">A client that may; a sender's number chooses among several.</param>
    public Running(IReadOnlyList<Sender> senders, params HttpClient[] client) =>
        _sending = Task.WhenAll(senders.Select((sender, number) => Task.Run(() => sender.RunAsync(client[number % client.Length], _stop.Token))));

    /// <summary>Stops between two requests of each sender.</summary>
    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _sending;
        _stop.Dispose();
    }
}
