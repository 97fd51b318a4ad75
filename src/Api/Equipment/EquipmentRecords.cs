using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Messages;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Equipment;

/// <summary>Makes records of what messages of the information model say, with what is known from earlier ones.</summary>
/// <remarks>A time in the cleaning mode becomes a wash of unknown outcome once it has ended: the model does not say how it went, and its length
/// proves nothing. An alarm becomes a fault. The key of a record is made of unit, thing and begin, so that the same message makes the same record;
/// where a late message shows that it began or ended sooner, another record replaces it.</remarks>
/// <param name="session">The transaction.</param>
/// <param name="units">Finds units.</param>
/// <param name="now">When the messages are taken in.</param>
internal sealed class EquipmentRecords(WriteSession session, UnitFinder units, DateTimeOffset now)
{
    private const int UsualHeardMinutes = 60;
    private static readonly DateTimeOffset Earliest = new(1990, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly TimeSpan ClockError = TimeSpan.FromHours(24);

    private readonly EquipmentQueries _queries = new(session);

    /// <summary>The rows that a message becomes.</summary>
    /// <param name="read">The message.</param>
    public async Task<IReadOnlyList<IncomingRow>> OfAsync(ReadMessage read)
    {
        EquipmentResource resource = read.Subscription!.Resource.Equipment!;
        string source = read.Subscription.Source;
        UnitEntry? unit = units.Find(read.Values!, resource.Unit, out RowProblem? unknown);
        if (unit is null)
        {
            // Kept once, however many messages of this kind come.
            return [new IncomingRow(1, null, unknown, source, null, MessageReader.Keep(read.Message, withPayload: false), null)];
        }

        EquipmentReading reading = EquipmentReader.Read(read, resource);
        RowProblem? problem = reading.Problem
            ?? (reading.Observations.Select(one => one.At).Append(reading.HeardAt ?? now).Any(IsImpossible) ? ImpossibleInstant() : null);
        if (problem is not null)
        {
            return [new IncomingRow(1, null, problem, source, null, MessageReader.Keep(read.Message), null)];
        }

        var records = new List<IncomingRecord>();
        foreach (Observation seen in reading.Observations)
        {
            if (await TellAsync(source, unit, seen) is { } record)
            {
                records.Add(record);
            }
        }

        records.AddRange(await HeardAsync(source, unit, reading, TimeSpan.FromMinutes(resource.HeardEveryMinutes ?? UsualHeardMinutes)));
        return [.. records.Select((record, index) => new IncomingRow(index + 1, record, null, source, record.Key, null, null))];
    }

    private bool IsImpossible(DateTimeOffset at) => at < Earliest || at > now + ClockError;

    private static RowProblem ImpossibleInstant() => new(
        "SourceTimestamp", "instant", "The message speaks of an instant before 1990 or more than a day ahead.", "Set the clock of its sender.");

    private async Task<IncomingRecord?> TellAsync(string source, UnitEntry unit, Observation seen)
    {
        if (await new EquipmentRuns(_queries).NoteAsync(unit.Id, seen) is not { } run || (seen.Code is null && run.EndMs is null))
        {
            return null;
        }

        string name = unit.Resource.Unit;
        DateTimeOffset start = DateTimeOffset.FromUnixTimeMilliseconds(run.StartMs);
        DateTimeOffset? end = run.EndMs is { } ms ? DateTimeOffset.FromUnixTimeMilliseconds(ms) : null;
        string key = string.Join('/', seen.Channel, name, InstantConverter.Format(start));
        key = key == run.ToldAs || run.ToldAs?.StartsWith(key, StringComparison.Ordinal) == true ? key + "/" + InstantConverter.Format(end!.Value) : key;
        await _queries.SetKeyAsync(unit.Id, seen.Channel, run.StartMs, key);
        return seen.Code is { } code
            ? new FaultRecord(source, key, name, start, run.ToldAs, code, end)
            : new WashRecord(source, key, name, start, run.ToldAs, end, null, null, WashOutcome.Unknown, null, null, null, null);
    }

    // Units tell of themselves every few seconds; one sign of life an hour shows that they are not silent.
    private async Task<IReadOnlyList<IncomingRecord>> HeardAsync(string source, UnitEntry unit, EquipmentReading reading, TimeSpan every)
    {
        LastHeard last = await _queries.HeardAsync(unit.Id) ?? new LastHeard(null, null);
        string name = unit.Resource.Unit;
        var records = new List<IncomingRecord>();
        if (reading.OperatingHours is { } hours && IsDue(last.MeterMs, hours.At, every))
        {
            records.Add(new MeterRecord(source, $"meter/{name}/{InstantConverter.Format(hours.At)}", name, hours.At, null, null, hours.Hours));
            last = last with { MeterMs = hours.At.ToUnixTimeMilliseconds() };
        }

        if (reading.HeardAt is { } heard && IsDue(last.HeartbeatMs, heard, every))
        {
            records.Add(new HeartbeatRecord(source, $"heartbeat/{name}/{InstantConverter.Format(heard)}", name, heard, null));
            last = last with { HeartbeatMs = heard.ToUnixTimeMilliseconds() };
        }

        if (records.Count > 0)
        {
            await _queries.SetHeardAsync(unit.Id, last);
        }

        return records;
    }

    private static bool IsDue(long? lastMs, DateTimeOffset at, TimeSpan every) =>
        lastMs is not { } last || at.ToUnixTimeMilliseconds() - last >= every.TotalMilliseconds;
}
