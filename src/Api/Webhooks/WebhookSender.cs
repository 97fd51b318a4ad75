using System.Diagnostics;

namespace Washwear.Api.Webhooks;

/// <summary>Sends what is due: several receivers at once, one message at a time to each. Safe for concurrent use.</summary>
/// <param name="outbox">The outbox.</param>
/// <param name="client">Sends one message once.</param>
/// <param name="settings">How long an attempt may take and how long sent messages are kept.</param>
/// <param name="clock">The clock.</param>
internal sealed class WebhookSender(OutboxQueries outbox, WebhookClient client, Settings settings, TimeProvider clock) : IDisposable
{
    private const int Gone = 410;
    private const int ReceiversAtOnce = 8;
    private const int MostOfOneReceiver = 20;

    // Longer than an attempt may take, so that a message in hand is not taken a second time.
    private static readonly TimeSpan Margin = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan SlowAnswer = TimeSpan.FromSeconds(2);
    private readonly SemaphoreSlim _turn = new(1, 1);

    /// <summary>Tries each message that is due once, up to twenty of each webhook.</summary>
    /// <param name="cancellationToken">Gives up; a message in hand is tried again later.</param>
    /// <returns>How many attempts were made.</returns>
    public async Task<int> RunAsync(CancellationToken cancellationToken)
    {
        await _turn.WaitAsync(cancellationToken);
        try
        {
            int attempts = 0;
            IReadOnlyList<DueMessage> due = await outbox.DueAsync(clock.GetUtcNow(), MostOfOneReceiver, cancellationToken);
            var options = new ParallelOptions { MaxDegreeOfParallelism = ReceiversAtOnce, CancellationToken = cancellationToken };
            await Parallel.ForEachAsync(due.GroupBy(message => message.WebhookId), options, async (messages, stop) =>
            {
                foreach (DueMessage message in messages)
                {
                    long begin = Stopwatch.GetTimestamp();
                    AttemptOutcome? outcome = await TryAsync(message.Id, stop);
                    Interlocked.Add(ref attempts, outcome is null ? 0 : 1);
                    if (outcome is { Problem: not null } || Stopwatch.GetElapsedTime(begin) > SlowAnswer)
                    {
                        // A receiver that fails or is slow costs one wait a run, not twenty, and keeps no other waiting.
                        break;
                    }
                }
            });
            return attempts;
        }
        finally
        {
            _turn.Release();
        }
    }

    /// <summary>Deletes sent messages that have been kept long enough, and old secrets that sign no more.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public Task ForgetAsync(CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return outbox.ForgetAsync(now - settings.WebhookKeep, now, cancellationToken);
    }

    /// <inheritdoc/>
    public void Dispose() => _turn.Dispose();

    private async Task<AttemptOutcome?> TryAsync(long id, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        if (await outbox.TakeAsync(id, now, settings.WebhookTimeout + Margin, cancellationToken) is not { } message)
        {
            return null;
        }

        WebhookAnswer answer = await client.SendAsync(message, now, cancellationToken);
        AttemptOutcome outcome = Outcome(answer, message.Tries + 1, now, clock.GetUtcNow());
        // What has been sent is noted even while the program stops, so that it is not sent twice.
        await outbox.RecordAsync(message, outcome, CancellationToken.None);
        return outcome;
    }

    private static AttemptOutcome Outcome(WebhookAnswer answer, int tries, DateTimeOffset at, DateTimeOffset now)
    {
        var ended = new AttemptOutcome(at, answer.Status, answer.Problem, answer.Text, "sent", tries, now, now, null);
        return answer switch
        {
            { Problem: null } => ended,
            { Status: Gone } => ended with { State = "dead", DisabledBecause = "The receiver answered 410: it wants no more messages." },
            _ when WebhookSchedule.Wait(tries, Random.Shared.NextDouble()) is { } wait => ended with { State = "waiting", DueAt = now + wait, EndedAt = null },
            _ => ended with { State = "dead" },
        };
    }
}
