using Washwear.Load.Fleet;
using Washwear.Load.Traffic;

namespace Washwear.Load.Mixed;

/// <summary>A gateway: single records and small batches, some with an Idempotency-Key, some sent twice.</summary>
/// <param name="run">What all clients share.</param>
/// <param name="key">Its key.</param>
/// <param name="random">Its chance.</param>
internal sealed class GatewayClient(MixedRun run, LoadKey key, Random random) : Client(run, key, random)
{
    private const int MostRows = 40;
    private readonly RecordMaker _maker = new(run.Fleet, key.Seen(run.Fleet), key.Name, run.Sent, random);

    /// <inheritdoc/>
    protected override double MeanThinkSeconds => 2;

    /// <inheritdoc/>
    protected override async Task StepAsync()
    {
        Batch batch = _maker.FromGateway(Random.Next(10) < 7 ? 1 : Random.Next(2, MostRows + 1));
        string route = batch.Numbers.Count == 1 ? "POST /v1/records, one" : "POST /v1/records, batch";
        string? requestKey = Random.Next(2) == 0 ? Run.Sent.KeyOf(batch.Numbers[0]) : null;
        Answer first = await SendAsync(route, "/v1/records", batch, requestKey);
        if (Random.Next(10) == 0 && first.Status == 200)
        {
            await AgainAsync(batch, requestKey, first);
        }
    }

    private async Task AgainAsync(Batch batch, string? requestKey, Answer first)
    {
        const string Route = "POST /v1/records, again";
        Answer second = await SendAsync(Route, "/v1/records", batch, requestKey);
        if (second.Status != 200)
        {
            return;
        }

        bool right = requestKey is null
            ? Counts(second).Duplicate == batch.Numbers.Count
            : second.Replayed && second.Body.AsSpan().SequenceEqual(first.Body);
        if (!right)
        {
            Run.Figures.Complain(Route, "sent again, it was answered " + second.Said);
        }
    }
}

/// <summary>A technician: finds a unit, opens it and its visit sheet, opens the form, closes the visit, reads what came of it.</summary>
/// <param name="run">What all clients share.</param>
/// <param name="key">Its key.</param>
/// <param name="random">Its chance.</param>
internal sealed class TechnicianClient(MixedRun run, LoadKey key, Random random) : Client(run, key, random)
{
    private const double SecondsBetweenPages = 4;
    private readonly RecordMaker _maker = new(run.Fleet, key.Seen(run.Fleet), key.Name, run.Sent, random);

    /// <inheritdoc/>
    protected override double MeanThinkSeconds => 10;

    /// <inheritdoc/>
    protected override async Task StepAsync()
    {
        FleetUnit unit = AnyUnit;
        IReadOnlyList<string> faults = Run.Fleet.ModelOf(unit).Faults;
        string fault = faults[Random.Next(faults.Count)];
        string code = Uri.EscapeDataString(unit.Code);
        await GetAsync("/units?q=", "/units?q=" + code);
        await ThinkAsync(SecondsBetweenPages * Random.NextDouble());
        await GetAsync("/units/{unit}", "/units/" + code);
        await ThinkAsync(SecondsBetweenPages * Random.NextDouble());
        await GetAsync("/units/{unit}/visit-sheet", $"/units/{code}/visit-sheet?fault={fault}");
        await ThinkAsync(SecondsBetweenPages * Random.NextDouble());
        await GetAsync("/visits/new", $"/visits/new?unit={code}&fault={fault}");
        await ThinkAsync(SecondsBetweenPages * Random.NextDouble());
        (Batch batch, string visit) = _maker.Visit(unit);
        Answer closed = await SendAsync("POST /v1/records, visit", "/v1/records?all_or_nothing=true", batch, visit);
        if (closed.Status == 200)
        {
            await GetAsync("/v1/visits/{key}", $"/v1/visits/{visit}?source={Key.Name}");
        }
    }
}
