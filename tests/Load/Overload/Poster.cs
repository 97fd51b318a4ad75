using Washwear.Load.Fleet;
using Washwear.Load.Mixed;
using Washwear.Load.Traffic;

namespace Washwear.Load.Overload;

/// <summary>Makes and sends what gateways post: four of five times one record, else 2 to 10. Making is for one thread at a time.</summary>
internal sealed class Poster
{
    private readonly Random _random;
    private readonly Caller _caller;
    private readonly SentRecords _sent;
    private readonly (LoadKey Key, RecordMaker Maker)[] _makers;
    private readonly LoadKey _reader;
    private readonly PreparedFleet _fleet;

    /// <summary>Makes one.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="keys">The keys.</param>
    /// <param name="caller">Sends.</param>
    /// <param name="sent">The records that were sent.</param>
    /// <param name="seed">Seed of its chance.</param>
    public Poster(PreparedFleet fleet, IReadOnlyList<LoadKey> keys, Caller caller, SentRecords sent, int seed)
    {
        (_fleet, _caller, _sent, _random) = (fleet, caller, sent, new Random(seed));
        _makers = [.. keys.Where(key => key.Role == "gateway").Select(key => (key, new RecordMaker(fleet, key.Seen(fleet), key.Name, sent, _random)))];
        _reader = keys.First(key => key is { Role: "reader", Units: null });
    }

    /// <summary>Makes a request with records.</summary>
    /// <param name="due">When it is due; null: at once.</param>
    /// <param name="phase">Where its answer is counted.</param>
    /// <returns>Sends it.</returns>
    public Func<Task> Post(long? due, Phase phase)
    {
        (LoadKey key, RecordMaker maker) = _makers[_random.Next(_makers.Length)];
        Batch batch = maker.FromGateway(_random.Next(5) > 0 ? 1 : _random.Next(2, 11));
        var call = new Call("POST /v1/records", HttpMethod.Post, "/v1/records", key.Secret) { Body = batch.Body, MediaType = batch.MediaType };
        return async () =>
        {
            Answer answer = await _caller.SendAsync(call, due);
            Fate fate = answer.Status switch { 200 => Fate.Acknowledged, 429 or 503 => Fate.Shed, _ => Fate.Unknown };
            _sent.Mark(batch.Numbers, fate);
            phase.Add(answer);
        };
    }

    /// <summary>Makes a dear question.</summary>
    /// <param name="due">When it is due; null: at once.</param>
    /// <param name="phase">Where its answer is counted.</param>
    /// <returns>Asks it.</returns>
    public Func<Task> Ask(long? due, Phase phase)
    {
        Question question = Questions.Pick(Questions.Dear, _random);
        Call call = Call.Get(question.Route, question.Path(_fleet.Units[_random.Next(_fleet.Units.Count)], _random), _reader.Secret);
        return async () => phase.Add(await _caller.SendAsync(call, due));
    }
}
