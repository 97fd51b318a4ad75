using System.Text.Json;
using Washwear.Load.Fleet;
using Washwear.Load.Traffic;

namespace Washwear.Load.Mixed;

/// <summary>Somebody who uses the service: does something, thinks, does something again.</summary>
/// <param name="run">What all clients share.</param>
/// <param name="key">Its key.</param>
/// <param name="random">Its chance.</param>
internal abstract class Client(MixedRun run, LoadKey key, Random random)
{
    /// <summary>What all clients share.</summary>
    protected MixedRun Run => run;

    /// <summary>Its key.</summary>
    protected LoadKey Key => key;

    /// <summary>Its chance.</summary>
    protected Random Random => random;

    /// <summary>The units that it sees.</summary>
    protected IReadOnlyList<FleetUnit> Units { get; } = key.Seen(run.Fleet);

    /// <summary>Mean of the time between two things that it does, seconds.</summary>
    protected abstract double MeanThinkSeconds { get; }

    /// <summary>One of its units.</summary>
    protected FleetUnit AnyUnit => Units[random.Next(Units.Count)];

    /// <summary>Lives until the run ends.</summary>
    public async Task LiveAsync()
    {
        // Nobody begins at the same moment as all others.
        await ThinkAsync(MeanThinkSeconds * random.NextDouble());
        while (!run.Until.IsCancellationRequested)
        {
            await StepAsync();
            await ThinkAsync(-MeanThinkSeconds * Math.Log(1 - random.NextDouble()));
        }
    }

    /// <summary>Does one thing.</summary>
    protected abstract Task StepAsync();

    /// <summary>Asks a question.</summary>
    /// <param name="route">The route, as figures name it.</param>
    /// <param name="path">Path and query.</param>
    protected Task<Answer> GetAsync(string route, string path) => run.AskAsync(Call.Get(route, path, key.Secret));

    /// <summary>Waits, not beyond the end of the run.</summary>
    /// <param name="seconds">How long, before it is multiplied.</param>
    protected async Task ThinkAsync(double seconds)
    {
        try
        {
            await Task.Delay(TimeSpan.FromSeconds(seconds * run.Think), run.Until);
        }
        catch (OperationCanceledException)
        {
            // The run ends.
        }
    }

    /// <summary>Sends records, and again where they were told to come again, so that nothing is left half said.</summary>
    /// <param name="route">The route, as figures name it.</param>
    /// <param name="path">Path and query.</param>
    /// <param name="batch">The records.</param>
    /// <param name="requestKey">Idempotency-Key; null: none.</param>
    /// <returns>The answer.</returns>
    protected async Task<Answer> SendAsync(string route, string path, Batch batch, string? requestKey = null)
    {
        var call = new Call(route, HttpMethod.Post, path, key.Secret) { Body = batch.Body, MediaType = batch.MediaType, RequestKey = requestKey };
        Answer answer = await run.AskAsync(call);
        if (answer.Status == 429)
        {
            run.Sent.Mark(batch.Numbers, Fate.Shed);
        }

        if (answer.Status != 200)
        {
            return answer;
        }

        (int accepted, int duplicate, int refused) = Counts(answer);
        if (refused == 0 && accepted + duplicate == batch.Numbers.Count)
        {
            run.Sent.Mark(batch.Numbers, Fate.Acknowledged);
        }
        else
        {
            run.Figures.Complain(route, $"{batch.Numbers.Count} records: {answer.Said}");
        }

        return answer;
    }

    /// <summary>What an answer to records counts.</summary>
    /// <param name="answer">The answer.</param>
    protected static (int Accepted, int Duplicate, int Refused) Counts(Answer answer)
    {
        using JsonDocument body = JsonDocument.Parse(answer.Body);
        int Of(string name) => body.RootElement.GetProperty(name).GetInt32();
        return (Of("accepted"), Of("duplicate"), Of("refused"));
    }
}
