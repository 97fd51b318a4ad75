using System.Globalization;
using System.Text;
using System.Text.Json;
using Washwear.Load.Fleet;

namespace Washwear.Load.Traffic;

/// <summary>Records of one request.</summary>
/// <param name="Numbers">Their numbers in what was sent.</param>
/// <param name="Body">JSON of one, NDJSON of several.</param>
internal sealed record Batch(IReadOnlyList<int> Numbers, byte[] Body)
{
    /// <summary>Media type of the body.</summary>
    public string MediaType => Numbers.Count == 1 ? "application/json" : "application/x-ndjson";
}

/// <summary>Makes records of what has just happened. Not safe for concurrent use.</summary>
/// <param name="fleet">The fleet.</param>
/// <param name="units">Units that they speak of.</param>
/// <param name="source">Whose they are.</param>
/// <param name="sent">Where they are noted.</param>
/// <param name="random">Its chance.</param>
internal sealed class RecordMaker(PreparedFleet fleet, IReadOnlyList<FleetUnit> units, string source, SentRecords sent, Random random)
{
    private const long MsPerMinute = 60_000;

    /// <summary>What gateways send: washes, heartbeats, meter readings, faults.</summary>
    /// <param name="rows">How many.</param>
    public Batch FromGateway(int rows)
    {
        var numbers = new List<int>(rows);
        var lines = new StringBuilder();
        for (int row = 0; row < rows; row++)
        {
            lines.Append(row > 0 ? "\n" : null).Append(Reported(units[random.Next(units.Count)], numbers));
        }

        return new Batch(numbers, Encoding.UTF8.GetBytes(lines.ToString()));
    }

    /// <summary>What closes a visit: the visit, often a part, now and then an approval that is asked for.</summary>
    /// <param name="unit">The unit.</param>
    /// <returns>The records, and the key of the visit.</returns>
    public (Batch Batch, string VisitKey) Visit(FleetUnit unit)
    {
        var numbers = new List<int>();
        FleetModel model = fleet.ModelOf(unit);
        string position = model.Positions[random.Next(model.Positions.Count)];
        string fault = model.Faults[random.Next(model.Faults.Count)];
        long left = Now() - random.Next(1_000, 20_000);
        long arrived = left - (random.Next(20, 90) * MsPerMinute);
        bool waits = random.Next(10) == 0;
        string outcome = waits ? "waiting_approval" : "repaired_not_proven";
        string times = $$""","arrived_at":"{{At(arrived)}}","left_at":"{{At(left)}}","outcome":"{{outcome}}" """;
        string work = $$""","technician":"team L, technician {{random.Next(1, 9)}}","faults":["{{fault}}"],"findings":[{"position":"{{position}}"}]""";
        var lines = new List<string> { Line("visit", unit, arrived, numbers, times + work) };
        if (waits)
        {
            lines.Add(Line("approval", unit, left, numbers, $$""","asked_at":"{{At(left)}}","what":"Replace {{position}}","amount":{{random.Next(30, 900)}},"fault_code":"{{fault}}" """));
        }
        else if (random.Next(3) > 0)
        {
            lines.Add(Line("part_change", unit, left - MsPerMinute, numbers, $$""","position":"{{position}}","removed":{"reason":"{{(random.Next(2) == 0 ? "failed" : "precaution")}}"},"fitted":{"batch":"L{{random.Next(1, 9)}}"}"""));
        }

        return (new Batch(numbers, Encoding.UTF8.GetBytes(string.Join('\n', lines))), sent.KeyOf(numbers[0]));
    }

    private string Reported(FleetUnit unit, List<int> numbers)
    {
        long now = Now() - random.Next(200, 30_000);
        switch (random.Next(20))
        {
            case < 9:
                long ended = now;
                long began = ended - (random.Next(60, 90) * MsPerMinute);
                string outcome = random.Next(40) == 0 ? "stopped_by_person" : "completed";
                return Line("wash", unit, began, numbers, $$""","ended_at":"{{At(ended)}}","grade":"standard","outcome":"{{outcome}}" """);
            case < 16:
                return Line("heartbeat", unit, now, numbers, null);
            case < 19:
                return Line("meter", unit, now, numbers, string.Create(CultureInfo.InvariantCulture, $",\"operating_hours_total\":{random.Next(50_000, 60_000)}"));
            default:
                long raised = now - (random.Next(5, 45) * MsPerMinute);
                return Line("fault", unit, raised, numbers, $$""","code":"door-opened","cleared_at":"{{At(now)}}" """);
        }
    }

    private string Line(string type, FleetUnit unit, long atMs, List<int> numbers, string? rest)
    {
        int number = sent.Add(source, type, unit.Code, atMs);
        numbers.Add(number);
        return $$"""{"type":"{{type}}","key":"{{sent.KeyOf(number)}}","unit":{{JsonSerializer.Serialize(unit.Code)}},"at":"{{At(atMs)}}"{{rest}}}""";
    }

    private static long Now() => TimeProvider.System.GetUtcNow().ToUnixTimeMilliseconds();

    private static string At(long ms) =>
        DateTimeOffset.FromUnixTimeMilliseconds(ms).ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
