using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;

namespace Washwear.Fuzz;

/// <summary>Makes requests for everything but the one way in: each operation of the contract, forms of pages, pages, photos.</summary>
/// <param name="contract">The contract.</param>
/// <param name="formField">Name of the field that keeps forms safe.</param>
/// <param name="formToken">Its value.</param>
internal sealed class OtherCases(Contract contract, string formField, string formToken)
{
    private static readonly string[] Known =
        ["OVEN-1", "oven-2", "OVEN-999", "PIER-4", "T10", "harbour", "daily", "wash-pump", "suction-hose", "P/100-2", "E21", "1", "2", "0", "-1", "99999999999999999999", "v1", "k1", "hook", "van-2"];

    private static readonly string[] Pages =
    [
        "/", "/cleaning", "/sites", "/sites/PIER-4", "/alerts", "/approvals", "/repairs", "/digest", "/part-life", "/part-life/lives", "/failures", "/failures/records", "/planning", "/planning/decisions",
        "/planning/parts", "/planning/stock", "/planning/forecast", "/planning/what-if", "/units", "/units/OVEN-1", "/units/OVEN-1/visit-sheet", "/visits", "/visits/new", "/visits/k1", "/sign-in",
        "/charts/cleaning/on-time.svg", "/charts/cleaning/causes.svg", "/charts/part-life/wash-pump/survival.svg", "/charts/units/OVEN-1/washes.svg", "/charts/failures/monthly.svg", "/charts/planning/cost.svg",
        "/charts/planning/forecast.png", "/assets/x", "/reference", "/nothing",
    ];

    private static readonly string[] Forms = ["/visits/new", "/approvals/1/decision", "/alerts/1/seen", "/planning/decisions", "/visits/k1/photos"];

    private static readonly string[] FormFields =
    [
        "key", "unit", "saved_by", "replaces", "fault", "asked", "arrived", "left", "technician", "outcome", "ask/what", "ask/amount", "note", "other", "check/turn-impeller", "proof/full-wash", "part/wash-pump",
        "part/wash-pump/reason", "part/wash-pump/batch", "finding/1/position", "condition/suction-hose", "decision", "by", "back", "day", "position", "kind", "next",
    ];

    private static readonly byte[][] PhotoStarts =
        [[0xFF, 0xD8, 0xFF, 0xE0], [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], "RIFF\0\0\0\0WEBP"u8.ToArray(), "GIF89a"u8.ToArray(), "<svg"u8.ToArray(), []];

    private readonly Operation[] _operations =
        [.. contract.Operations.Values.Where(operation => operation.Name != "POST /v1/records").OrderBy(operation => operation.Name, StringComparer.Ordinal)];

    private readonly string[] _parameters =
        [.. contract.Operations.Values.SelectMany(operation => operation.Parameters).Where(one => one.In == "query").Select(one => one.Name).Distinct().Order(StringComparer.Ordinal)];

    public FuzzCase Make(Random random) => random.Next(100) switch
    {
        < 12 => Form(random),
        < 20 => new FuzzCase("GET", random.One(Pages) + AnyQuery(random), Accept(random), null),
        _ => Operation(random, random.One(_operations)),
    };

    private static List<Header> Accept(Random random) =>
        random.Chance(50) ? [] : [new Header("Accept", random.One(["text/html", "text/csv", "application/json", "image/png", "application/problem+json", "*/*;q=0.1, text/html", ";;;", ""]))];

    private static string Value(Random random, IReadOnlyList<string> words)
    {
        string value = random.Next(5) switch
        {
            0 => random.One(Nasty.Texts),
            1 => random.One(Nasty.Instants),
            2 => random.One(Nasty.Numbers),
            3 when words.Count > 0 => random.One(words),
            _ => words.Count > 0 && random.Chance(70) ? random.One(words) : random.One(Known),
        };
        return Uri.EscapeDataString(value[..Math.Min(value.Length, 600)]);
    }

    private static string Segment(Random random)
    {
        string value = random.Chance(75) ? random.One(Known) : random.One(Nasty.Texts);
        string escaped = Uri.EscapeDataString(value[..Math.Min(value.Length, 300)]);
        return escaped is "" or "." or ".." ? "x" : escaped;
    }

    private static byte[] Photo(Random random)
    {
        byte[] noise = new byte[random.One([0, 10, 1000, 100_000])];
        random.NextBytes(noise);
        return [.. random.One(PhotoStarts), .. noise];
    }

    private static byte[] Json(string example, Random random)
    {
        JsonNode root = JsonNode.Parse(example)!;
        for (int change = random.Next(4); change > 0; change--)
        {
            BreakNode(root, random);
        }

        byte[] body = Encoding.UTF8.GetBytes(Text(root) ?? example);
        return random.Chance(25) ? Mutator.Break(body, random, body) : body;
    }

    private static string? Text(JsonNode root)
    {
        try
        {
            return root.ToJsonString();
        }
        catch (InvalidOperationException)
        {
            // Half a character was put in, which cannot be written.
            return null;
        }
    }

    private static void BreakNode(JsonNode root, Random random)
    {
        JsonNode at = root;
        while (random.Chance(70) && Child(at, random) is { } child)
        {
            at = child;
        }

        JsonNode? value = null;
        try
        {
            value = JsonNode.Parse(Mutator.AnyJson(random));
        }
        catch (System.Text.Json.JsonException)
        {
            // What is no JSON cannot be put into a document; null is put there.
        }

        switch (at)
        {
            case JsonObject fields when fields.Count > 0:
                string name = random.One([.. fields.Select(field => field.Key)]);
                if (random.Chance(30))
                {
                    fields.Remove(name);
                }
                else
                {
                    fields[random.Chance(90) ? name : "colour"] = value;
                }

                break;
            case JsonArray items:
                items.Add(random.Chance(50) && items.Count > 0 ? items[0]?.DeepClone() : value);
                break;
        }
    }

    private static JsonNode? Child(JsonNode node, Random random) => node switch
    {
        JsonObject { Count: > 0 } fields => fields.ElementAt(random.Next(fields.Count)).Value,
        JsonArray { Count: > 0 } items => items[random.Next(items.Count)],
        _ => null,
    } is { } child and (JsonObject or JsonArray) ? child : null;

    private FuzzCase Operation(Random random, Operation operation)
    {
        string path = string.Join('/', operation.Route.Split('/').Select(segment => segment.StartsWith('{') ? Segment(random) : segment));
        string[] query =
        [
            .. operation.Parameters.Where(one => one.In == "query" && random.Chance(30)).Select(one => one.Name + "=" + Value(random, one.Words)),
            .. random.Chance(5) ? [random.One(_parameters) + "=" + Value(random, [])] : Array.Empty<string>(),
        ];
        List<Header> headers = Accept(random);
        byte[]? body = null;
        if (operation.HasBody || operation.Route.EndsWith("/photos", StringComparison.Ordinal))
        {
            body = operation.BodyExample is { } example ? Json(example, random) : Photo(random);
            string type = operation.BodyExample is null ? "image/jpeg" : "application/json";
            headers.Add(new Header("Content-Type", random.Chance(92) ? type : random.One(Nasty.MediaTypes)));
            if (random.Chance(3))
            {
                headers.Add(new Header("Content-Encoding", random.One(Nasty.Codings)));
            }
        }

        if (random.Chance(3))
        {
            headers.Add(new Header("If-None-Match", random.One(["*", "\"x\"", "W/\"", "x", "\"" + new string('e', 500) + "\""])));
        }

        return new FuzzCase(operation.Method, path + (query.Length == 0 ? string.Empty : "?" + string.Join('&', query)), headers, body, operation.Name, random.Chance(10));
    }

    private string AnyQuery(Random random)
    {
        var asked = new List<string>();
        while (random.Chance(60))
        {
            asked.Add(random.One(_parameters) + "=" + Value(random, contract.Operations.Values.SelectMany(one => one.Parameters).First(one => one.Name == _parameters[0]).Words));
        }

        return asked.Count == 0 ? string.Empty : "?" + string.Join('&', asked);
    }

    private FuzzCase Form(Random random)
    {
        var fields = new List<(string Name, string Value)>();
        if (random.Chance(90))
        {
            fields.Add((formField, formToken));
        }

        fields.Add(("unit", random.Chance(80) ? "OVEN-" + random.Next(1, 22).ToString(CultureInfo.InvariantCulture) : random.One(Nasty.Texts)));
        fields.Add(("key", random.Chance(80) ? RecordSeeds.Key(random) : random.One(Nasty.Texts)));
        fields.Add(("arrived", random.Chance(60) ? "2026-03-01T10:00" : random.One(Nasty.Instants)));
        fields.Add(("left", random.Chance(60) ? "2026-03-01T11:00" : random.One(Nasty.Instants)));
        fields.Add(("outcome", random.One(["proven", "repaired_not_proven", "no_fault_found", "waiting_approval", "x"])));
        while (random.Chance(75))
        {
            fields.Add((random.One(FormFields), random.One<string>([random.One(Nasty.Texts), random.One(Nasty.Numbers), random.One(Known), "pass", "fail", "granted", "refused", "failed", "precaution"])));
        }

        string text = string.Join('&', fields.Select(field => Uri.EscapeDataString(field.Name) + "=" + Uri.EscapeDataString(field.Value)));
        byte[] body = Encoding.UTF8.GetBytes(text);
        string type = "application/x-www-form-urlencoded";
        if (random.Chance(30))
        {
            type = "multipart/form-data; boundary=cut";
            string parts = string.Concat(fields.Select(field => $"--cut\r\nContent-Disposition: form-data; name=\"{field.Name}\"\r\n\r\n{field.Value}\r\n"));
            body = [.. Encoding.UTF8.GetBytes(parts + "--cut\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"p.jpg\"\r\nContent-Type: image/jpeg\r\n\r\n"), .. Photo(random), .. "\r\n--cut--\r\n"u8];
        }

        if (random.Chance(30))
        {
            body = Mutator.Break(body, random, body);
        }

        List<Header> headers = [.. Accept(random), new Header("Content-Type", random.Chance(95) ? type : random.One(Nasty.MediaTypes))];
        return new FuzzCase("POST", random.One(Forms), headers, body);
    }
}
