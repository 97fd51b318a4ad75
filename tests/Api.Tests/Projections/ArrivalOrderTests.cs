using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using CsCheck;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Projections;

/// <summary>
/// Any records of two senders, crowded in time, with voids and replacements of one another and of what never comes: told in order, told
/// shuffled, repeated and in pieces, or only what counts in the end being told, a unit's projections are the same; and the same again when
/// all is derived anew.
/// </summary>
public sealed class ArrivalOrderTests : IAsyncLifetime
{
    private static readonly DateTimeOffset Begin = new(2025, 10, 1, 0, 0, 0, TimeSpan.Zero);

    private static readonly Gen<Telling> AnyTelling =
        from events in (
            from kind in Gen.Enum<Kind>()
            from hour in Gen.Int[0, 40]
            from hours in Gen.Int[0, 5]
            from variant in Gen.Int[0, 3]
            from sender in Gen.Int[0, 1]
            from target in Gen.Int[0, 40]
            from replaces in Gen.Int[0, 5]
            select new Event(kind, hour, hours, variant, sender, target, replaces == 0)).Array[0, 40]
        from seed in Gen.Int
        from pieces in Gen.Int[1, 6]
        select new Telling(events, seed, pieces);

    private ApiHost _host = null!;
    private int _samples;

    private enum Kind
    {
        Wash,
        Fault,
        FaultCleared,
        Fit,
        Remove,
        Swap,
        Meter,
        Heartbeat,
        Visit,
        Approval,
        Condition,
        Void,
    }

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task The_order_of_arrival_makes_no_difference_nor_does_what_was_taken_back()
    {
        await AnyTelling.SampleAsync(CheckAsync, iter: 60, threads: 1);

        IReadOnlyList<string> live = await DumpAsync(null);
        RegistryCache registry = _host.Services.GetRequiredService<RegistryCache>();
        await _host.Database.WriteAsync(
            async session => Projector.Rebuild(session, await registry.CurrentAsync(CancellationToken.None)), CancellationToken.None);
        Assert.NotEmpty(live);
        Assert.Equal(live, await DumpAsync(null));
    }

    private async Task CheckAsync(Telling telling)
    {
        int number = ++_samples;
        Event[] events = telling.Events;
        int[] inOrder = [.. Enumerable.Range(0, events.Length)];
        var random = new Random(telling.Seed);
        int[] shuffled = [.. inOrder, .. inOrder.Where(_ => random.Next(3) == 0)];
        random.Shuffle(shuffled);
        bool[] counts = Counting(events);

        string plain = await TellAsync($"p{number}", inOrder.Select(index => Row(events, index, $"p{number}", true)), 1);
        string mixed = await TellAsync($"s{number}", shuffled.Select(index => Row(events, index, $"s{number}", true)), telling.Pieces);
        string final = await TellAsync(
            $"e{number}", inOrder.Where(index => counts[index]).Select(index => Row(events, index, $"e{number}", false)), 1);
        Assert.Equal(plain, mixed);
        Assert.Equal(plain, final);
    }

    // Which records count in the end, by the rules as they are written, not by the code that keeps them.
    private static bool[] Counting(Event[] events)
    {
        var taken = new HashSet<(int Sender, int Target)>();
        for (int index = 0; index < events.Length; index++)
        {
            if (events[index].Kind == Kind.Void || events[index].Replaces)
            {
                taken.Add((events[index].Sender, Target(events, index)));
            }
        }

        return [.. events.Select((one, index) => one.Kind != Kind.Void && !taken.Contains((one.Sender, index)))];
    }

    // Mostly another record of the telling, which may be of the other sender and then means nothing; sometimes one that never comes.
    private static int Target(Event[] events, int index) => events[index].Target == index ? index + 1 : events[index].Target;

    private async Task<string> TellAsync(string unit, IEnumerable<string> rows, int pieces)
    {
        using HttpResponseMessage put = await Samples.PutAsync(_host.Admin, "/v1/units/" + unit, Samples.Unit);
        Assert.True(put.IsSuccessStatusCode);
        string[] all = [.. rows];
        foreach (string[] piece in all.Chunk(Math.Max(1, all.Length / pieces)))
        {
            JsonElement answer = await Sending.SendAsync(_host.Admin, string.Join('\n', piece), "application/x-ndjson");
            foreach (JsonElement row in answer.GetProperty("rows").EnumerateArray().Where(row => row.GetProperty("outcome").GetString() == "refused"))
            {
                Assert.Equal("void_of_a_void", row.GetProperty("problem").GetProperty("rule").GetString());
            }
        }

        return string.Join('\n', await DumpAsync(unit));
    }

    private static string Row(Event[] events, int index, string unit, bool withReplaces)
    {
        Event one = events[index];
        var fields = new Dictionary<string, object?>
        {
            ["source"] = $"{unit}-{one.Sender}",
            ["key"] = Key(index),
            ["at"] = At(one.Hour),
        };
        if (one.Kind != Kind.Void)
        {
            fields["unit"] = one.Variant == 0 ? unit.ToUpperInvariant() : unit;
            fields["replaces"] = one.Replaces && withReplaces ? Key(Target(events, index)) : null;
        }

        Add(fields, one, Key(Target(events, index)));
        return JsonSerializer.Serialize(fields);
    }

    private static void Add(Dictionary<string, object?> fields, Event one, string target)
    {
        string[] codes = ["E21", "e21", "x9", "X9"];
        string[] positions = ["wash-pump", "Wash-Pump", "suction-hose", "SUCTION-HOSE"];
        switch (one.Kind)
        {
            case Kind.Wash:
                (fields["type"], fields["outcome"]) = ("wash", one.Variant == 3 ? "refused" : "completed");
                fields["programme"] = one.Variant == 1 ? "LONG" : "short";
                fields["ended_at"] = one.Variant == 3 ? null : At(one.Hour + one.Hours);
                fields["attested_by"] = one.Variant == 2 ? "kitchen" : null;
                break;
            case Kind.Fault:
                (fields["type"], fields["code"]) = ("fault", codes[one.Variant]);
                fields["cleared_at"] = one.Hours == 5 ? At(one.Hour + one.Hours) : null;
                break;
            case Kind.FaultCleared:
                (fields["type"], fields["code"]) = ("fault_cleared", codes[one.Variant]);
                break;
            case Kind.Fit or Kind.Remove or Kind.Swap:
                (fields["type"], fields["position"]) = ("part_change", positions[one.Variant]);
                fields["fitted"] = one.Kind == Kind.Remove ? null : new { batch = $"b{one.Hours}", age_days = one.Hours == 4 ? 30 : (int?)null };
                fields["removed"] = one.Kind == Kind.Fit ? null : Removed(one);
                break;
            case Kind.Meter:
                (fields["type"], fields["washes_total"]) = ("meter", 100 + one.Hours);
                break;
            case Kind.Heartbeat:
                fields["type"] = "heartbeat";
                break;
            case Kind.Visit:
                (fields["type"], fields["arrived_at"]) = ("visit", At(one.Hour));
                fields["left_at"] = one.Variant == 0 ? null : At(one.Hour + one.Hours);
                fields["outcome"] = one.Variant == 1 ? "proven" : null;
                fields["findings"] = one.Variant == 1 ? new[] { new { position = "wash-pump", failure_mode = "seized" } } : null;
                break;
            case Kind.Approval:
                (fields["type"], fields["asked_at"]) = ("approval", At(one.Hour));
                (fields["decision"], fields["decided_at"]) = one.Variant == 0 ? (null, null) : ("granted", At(one.Hour + one.Hours));
                break;
            case Kind.Condition:
                (fields["type"], fields["position"], fields["grade"]) = ("condition", positions[one.Variant], "worn");
                break;
            case Kind.Void:
                (fields["type"], fields["voids"], fields["reason"]) = ("void", target, "sent by mistake");
                break;
        }
    }

    private static object Removed(Event one) => one.Hours switch
    {
        0 => new { reason = "precaution" },
        1 => new { reason = "found_failed", failure_mode = "leaks", last_seen_good_at = At(one.Hour - 2) },
        _ => new { reason = "failed", failure_mode = "seized" },
    };

    private static string Key(int index) => string.Create(CultureInfo.InvariantCulture, $"k{index:00}");

    private static string At(int hour) => Begin.AddHours(hour).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    // All that the projections say but the order of acceptance; where they name a record, its key.
    private async Task<IReadOnlyList<string>> DumpAsync(string? unit)
    {
        string Key(string column) => $"(SELECT substr(r.source, -1) || r.key FROM record r WHERE r.seq = {column})";
        string[] queries =
        [
            $"SELECT 'wash', p.started_ms, {Key("p.seq")}, p.ended_ms, p.grade, p.outcome, p.attested FROM wash_span p",
            $"SELECT 'fault', p.raised_ms, {Key("p.seq")}, p.code, p.cleared_ms FROM fault_span p",
            $"SELECT 'part', p.position, p.ordinal, p.fitted_ms, p.watched_from_ms, p.ended_ms, p.ended_how, p.last_seen_good_ms, "
                + $"p.failure_mode, p.batch, p.entry_age_days, p.entry_age_washes, {Key("p.fitted_seq")}, {Key("p.removed_seq")}, p.doubt FROM part_life p",
            "SELECT 'signs', p.charted, p.called, p.state FROM early_sign p",
            $"SELECT 'visit', p.from_ms, {Key("p.seq")}, p.asked_ms, p.arrived_ms, p.left_ms, p.outcome FROM visit_span p",
            $"SELECT 'approval', p.from_ms, {Key("p.seq")}, p.asked_ms, p.decided_ms, p.granted FROM approval_span p",
            "SELECT 'status', p.first_heard_ms, p.last_heard_ms, p.last_record_ms, p.washes_run FROM unit_status p",
            "SELECT 'month', p.month, p.washes FROM wash_month p",
            "SELECT 'cleaning', p.terms, p.first_period, p.last_period, hex(p.run) FROM cleaning_run p",
            "SELECT 'period', p.id >> 32, hex(p.closed), hex(p.run) FROM (SELECT id & 4294967295 AS unit_id, id, closed, run FROM cleaning_period) p",
        ];
        await using DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        var lines = new List<string>();
        foreach (string query in queries)
        {
            const string OfUnit = " JOIN unit u ON u.id = p.unit_id WHERE @unit IS NULL OR u.code = @unit";
            IEnumerable<dynamic> rows = await connection.QueryAsync(query + OfUnit, new { unit });
            lines.AddRange(rows
                .Select(row => string.Join('|', ((IDictionary<string, object?>)row).Values.Select(value => Convert.ToString(value, CultureInfo.InvariantCulture))))
                .Order(StringComparer.Ordinal));
        }

        return lines;
    }

    private sealed record Telling(Event[] Events, int Seed, int Pieces);

    private sealed record Event(Kind Kind, int Hour, int Hours, int Variant, int Sender, int Target, bool Replaces);
}
