using System.Globalization;
using System.Text.Json;

namespace Washwear.Faults.Traffic;

/// <summary>Makes the records of one source by its own chance: washes mostly, in the order of time or late, with corrections and voids
/// among them. What it makes is remembered, so that later ones can name earlier ones.</summary>
/// <param name="prefix">What its keys begin with.</param>
/// <param name="random">Its chance.</param>
internal sealed class RowMaker(string prefix, Random random)
{
    private const int Days = 240;
    private static readonly DateTimeOffset Begin = new(2025, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly string[] Positions = ["wash-pump", "suction-hose"];
    private static readonly string[] Notes = ["", "Spülpumpe geprüft – dicht", "says \"no\", line\nbreak; 50 °C", "ok 🧽", new('x', 900)];
    private readonly int[] _hours = new int[Fleet.Units];
    private readonly List<(string Key, string Type)> _made = [];
    private int _number;

    /// <summary>The next record.</summary>
    public Row Next()
    {
        int kind = random.Next(100);
        return kind switch
        {
            < 62 => Wash(null),
            < 68 when Earlier("wash") is { } replaced => Wash(replaced),
            < 72 when Earlier(null) is { } gone => Void(gone),
            < 78 => Heartbeat(),
            < 83 => Meter(),
            < 87 => Fault(),
            < 90 => FaultCleared(),
            < 93 => PartChange(),
            < 95 => Condition(),
            < 97 => Visit(),
            < 99 => Approval(),
            _ => Wash(null),
        };
    }

    /// <summary>A visit.</summary>
    public Row Visit()
    {
        (string unit, long at) = Place();
        long left = at + Hours(1);
        string note = Note();
        var finding = new { position = "wash-pump", failure_mode = "leaks", cause = "scale", note = "seal" };
        return Made("visit", unit, at, null, new()
        {
            ["arrived_at"] = At(at),
            ["left_at"] = At(left),
            ["outcome"] = "repaired_not_proven",
            ["technician"] = "Kim (invented)",
            ["note"] = note,
            ["findings"] = new[] { finding },
        }, null, at, left, "repaired_not_proven", "Kim (invented)", note, JsonSerializer.Serialize(new[] { finding }));
    }

    /// <summary>An approval that is asked for.</summary>
    public Row Approval()
    {
        (string unit, long at) = Place();
        double amount = random.Next(1, 90_000) / 100.0;
        return Made("approval", unit, at, null, new() { ["asked_at"] = At(at), ["what"] = "New pump", ["amount"] = amount, ["fault_code"] = "E21" },
            "New pump", amount, "E21", at, null, null, null, null);
    }

    /// <summary>A record that is refused: nobody has its unit.</summary>
    public string Refused() => JsonSerializer.Serialize(new { type = "heartbeat", key = NextKey(), unit = "OVEN-LOST", at = At(Ms(Begin)) });

    private Row Wash(string? replaces)
    {
        (string unit, long at) = Place();
        bool refused = random.Next(30) == 0;
        string outcome = refused ? "refused" : random.Next(20) switch { 0 => "stopped_by_person", 1 => "stopped_by_fault", _ => "completed" };
        long? ended = refused ? null : at + (random.Next(20, 150) * 60_000L);
        string? programme = random.Next(3) switch { 0 => "short", 1 => "long", _ => null };
        string? grade = programme is null ? "standard" : null;
        string? fault = outcome == "stopped_by_fault" ? "E21" : null;
        double? doses = refused ? null : random.Next(1, 40) / 8.0;
        bool? left = random.Next(4) == 0 ? random.Next(2) == 0 : null;
        return Made("wash", unit, at, replaces, new()
        {
            ["ended_at"] = At(ended),
            ["programme"] = programme,
            ["grade"] = grade,
            ["outcome"] = outcome,
            ["fault_code"] = fault,
            ["detergent_doses"] = doses,
            ["detergent_left"] = left,
        }, ended, programme, grade, outcome, fault, doses, left, null);
    }

    private Row Void(string gone)
    {
        string key = NextKey();
        long at = Ms(Begin.AddDays(Days));
        string json = JsonSerializer.Serialize(new { type = "void", key, at = At(at), voids = gone, reason = "sent by mistake" });
        return new Row(key, "void", json, Row.Join("void", null, at, null, gone, "sent by mistake"), gone);
    }

    private Row Heartbeat()
    {
        (string unit, long at) = Place();
        return Made("heartbeat", unit, at, null, []);
    }

    private Row Meter()
    {
        (string unit, long at) = Place();
        double washes = (at - Ms(Begin)) / Hours(6);
        double hours = random.Next(1_000_000) / 10.0;
        return Made("meter", unit, at, null, new() { ["washes_total"] = washes, ["operating_hours_total"] = hours }, at, washes, hours);
    }

    private Row Fault()
    {
        (string unit, long at) = Place();
        long? cleared = random.Next(2) == 0 ? at + Hours(random.Next(1, 48)) : null;
        string code = random.Next(4) == 0 ? "E30" : "E21";
        return Made("fault", unit, at, null, new() { ["code"] = code, ["cleared_at"] = At(cleared) }, code, cleared);
    }

    private Row FaultCleared()
    {
        (string unit, long at) = Place();
        return Made("fault_cleared", unit, at, null, new() { ["code"] = "E21" }, "E21");
    }

    private Row PartChange()
    {
        (string unit, long at) = Place();
        string position = Positions[random.Next(2)];
        string? reason = random.Next(3) switch { 0 => null, 1 => "precaution", _ => "failed" };
        string? mode = reason == "failed" && position == "wash-pump" ? "seized" : null;
        string batch = string.Create(CultureInfo.InvariantCulture, $"B{random.Next(9)}");
        double? age = random.Next(3) == 0 ? random.Next(1, 400) / 2.0 : null;
        return Made("part_change", unit, at, null, new()
        {
            ["position"] = position,
            ["removed"] = reason is null ? null : new Dictionary<string, object?> { ["reason"] = reason, ["failure_mode"] = mode },
            ["fitted"] = new Dictionary<string, object?> { ["part_number"] = "P/100-2", ["batch"] = batch, ["age_days"] = age },
        }, position, reason, mode, null, null, null, 1, "P/100-2", batch, null, age, null);
    }

    private Row Condition()
    {
        (string unit, long at) = Place();
        string note = Note();
        return Made("condition", unit, at, null, new() { ["position"] = "suction-hose", ["grade"] = "worn", ["note"] = note }, "suction-hose", "worn", note);
    }

    private Row Made(string type, string unit, long at, string? replaces, Dictionary<string, object?> fields, params object?[] facts)
    {
        string key = NextKey();
        (fields["type"], fields["key"], fields["unit"], fields["at"], fields["replaces"]) = (type, key, unit, At(at), replaces);
        _made.Add((key, type));
        string json = JsonSerializer.Serialize(fields.Where(field => field.Value is not null).ToDictionary());
        return new Row(key, type, json, Row.Join([type, unit, at, replaces, .. facts]), replaces);
    }

    // Mostly a few hours after the last one of the oven, sometimes any time before: a record that comes late.
    private (string Unit, long At) Place()
    {
        int unit = random.Next(Fleet.Units);
        int hour = _hours[unit];
        if (random.Next(10) == 0 && hour > 0)
        {
            hour = random.Next(hour);
        }
        else
        {
            _hours[unit] = (hour + random.Next(1, 16)) % (Days * 24);
        }

        return (Fleet.Unit(unit), Ms(Begin.AddHours(hour).AddMilliseconds(random.Next(3_600_000))));
    }

    private string? Earlier(string? type)
    {
        (string Key, string Type) earlier = _made.Count == 0 ? default : _made[Math.Max(0, _made.Count - 1 - random.Next(200))];
        return earlier.Key is null || (type is not null && earlier.Type != type) ? null : earlier.Key;
    }

    private string Note() => Notes[random.Next(1, Notes.Length)];

    private string NextKey() => string.Create(CultureInfo.InvariantCulture, $"{prefix}{_number++:00000000}");

    private static long Hours(int hours) => hours * 3_600_000L;

    private static long Ms(DateTimeOffset at) => at.ToUnixTimeMilliseconds();

    private static string? At(long? ms) => ms is { } value
        ? DateTimeOffset.FromUnixTimeMilliseconds(value).ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture)
        : null;
}
