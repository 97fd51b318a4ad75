using System.Globalization;
using System.Text.Json;

namespace Washwear.Fuzz;

/// <summary>A field of a record: its name and its value as JSON, which need not be good JSON.</summary>
/// <param name="Name">Name.</param>
/// <param name="Json">Value.</param>
internal readonly record struct SeedField(string Name, string Json);

/// <summary>Makes records that are good, each type with its fields.</summary>
internal static class RecordSeeds
{
    public static readonly string[] Types =
        ["wash", "fault", "fault_cleared", "part_change", "meter", "heartbeat", "visit", "approval", "condition", "void"];

    private const int MostKeys = 200_000;

    private static readonly DateTimeOffset First = new(2025, 9, 1, 0, 0, 0, TimeSpan.Zero);

    public static List<SeedField> Record(Random random, string? type = null)
    {
        type ??= random.One(Types);
        List<SeedField> fields = [Text("type", type), Text("key", Key(random))];
        if (type != "void")
        {
            fields.Add(Text("unit", "OVEN-" + random.Next(1, 101).ToString(CultureInfo.InvariantCulture)));
        }

        DateTimeOffset at = First.AddMinutes(random.Next(260_000));
        fields.AddRange(Own(random, type, at));
        if (random.Chance(5))
        {
            fields.Add(Text("replaces", Key(random)));
        }

        if (random.Chance(5))
        {
            fields.Add(Text("source", "gateway-" + random.Next(4).ToString(CultureInfo.InvariantCulture)));
        }

        return fields;
    }

    public static string Key(Random random) => "k" + random.Next(MostKeys).ToString(CultureInfo.InvariantCulture);

    public static string Instant(DateTimeOffset at) => at.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private static SeedField Text(string name, string text) => new(name, JsonSerializer.Serialize(text));

    private static SeedField At(string name, DateTimeOffset at) => Text(name, Instant(at));

    private static List<SeedField> Own(Random random, string type, DateTimeOffset at) => type switch
    {
        "wash" => [At(random.Chance(50) ? "at" : "started_at", at), At("ended_at", at.AddMinutes(random.Next(30, 120))), Text("programme", random.One(["short", "long"])),
            Text("outcome", random.One(["completed", "stopped_by_person", "stopped_by_fault"])), new("detergent_doses", "2"), new("detergent_left", "false")],
        "fault" => [At("at", at), Text("code", "E21"), At("cleared_at", at.AddHours(random.Next(1, 90)))],
        "fault_cleared" => [At("at", at), Text("code", "E21")],
        "part_change" => [At("at", at), Text("position", random.One(["wash-pump", "suction-hose"])), new("removed", """{"reason":"failed","failure_mode":"leaks"}"""),
            new("fitted", """{"part_number":"P/100-2","batch":"B7","age_days":0}""")],
        "meter" => [At("at", at), new("washes_total", random.Next(5000).ToString(CultureInfo.InvariantCulture)), new("operating_hours_total", "1200.5")],
        "visit" => [At("asked_at", at.AddHours(-5)), At("arrived_at", at), At("left_at", at.AddHours(1)), Text("outcome", random.One(["proven", "repaired_not_proven", "waiting_part"])),
            Text("technician", "T. One"), new("faults", """["E21"]"""), new("checks", """[{"check":"turn-impeller","result":"pass","reading":1.5,"unit_of_measure":"bar"}]"""),
            new("findings", """[{"position":"wash-pump","failure_mode":"seized","note":"worn"}]"""), new("proofs", """[{"proof":"full-wash","result":"pass"}]"""),
            new("conditions", """[{"position":"suction-hose","grade":"worn"}]"""), Text("note", "a\nb")],
        "approval" => [At("asked_at", at), Text("what", "pump"), new("amount", "400.5"), Text("fault_code", "E21"), Text("decision", "granted"), At("decided_at", at.AddHours(3)), Text("decided_by", "M. Two")],
        "condition" => [At("at", at), Text("position", "wash-pump"), Text("grade", "good"), Text("note", "looks well")],
        "void" => [At("at", at), Text("voids", Key(random)), Text("reason", "sent twice")],
        _ => [At("at", at)],
    };
}
