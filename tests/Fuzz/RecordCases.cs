using System.IO.Compression;
using System.Text;
using System.Text.Json;

namespace Washwear.Fuzz;

/// <summary>Makes bodies for the one way in: every form, mostly broken, some good.</summary>
internal static class RecordCases
{
    private const string Operation = "POST /v1/records";

    private static readonly string[] Forms = ["json", "array", "ndjson", "csv", "structured", "batch", "binary"];

    private static readonly string[] Queries =
        ["type=wash", "type=bath", "source=meters", "source=%00", "source=" + "a", "rows=all", "rows=problems", "rows=", "all_or_nothing=true", "all_or_nothing=false", "type=", "x=y", "source=%F0%9F%98%80", "source=%ff"];

    public static FuzzCase Make(Random random, int number)
    {
        string form = Forms[random.Next(100) switch { < 20 => 0, < 40 => 1, < 60 => 2, < 80 => 3, < 87 => 4, < 94 => 5, _ => 6 }];
        bool good = random.Chance(15);
        var headers = new List<Header>();
        string? type = form == "csv" && random.Chance(80) ? random.One(RecordSeeds.Types) : null;
        byte[] body = Encoding.UTF8.GetBytes(Text(form, random, good ? 0 : 60, type, headers));
        if (!good && random.Chance(60))
        {
            body = Mutator.Break(body, random, Encoding.UTF8.GetBytes(Text(random.One(Forms), random, 0, null, [])));
        }

        body = Encode(body, random, headers);
        headers.Add(new Header("Content-Type", random.Chance(96) ? MediaType(form) : random.One(Nasty.MediaTypes)));
        if (random.Chance(4))
        {
            headers.Add(new Header("Idempotency-Key", random.Chance(70) ? $"\"{number}\"" : random.One(Nasty.Texts)));
        }

        if (random.Chance(3))
        {
            headers.Add(new Header("Accept", random.One(["text/csv", "text/html", "application/json", "image/png", "*/*;q=0", "", ","])));
        }

        return new FuzzCase("POST", "/v1/records" + Query(random, type), headers, body, Operation, random.Chance(20));
    }

    private static string Query(Random random, string? type)
    {
        var asked = new List<string>();
        if (type is not null)
        {
            asked.Add("type=" + type);
        }

        while (random.Chance(12))
        {
            asked.Add(random.One(Queries));
        }

        return asked.Count == 0 ? string.Empty : "?" + string.Join('&', asked);
    }

    private static string MediaType(string form) => form switch
    {
        "ndjson" => "application/x-ndjson",
        "csv" => "text/csv",
        "structured" => "application/cloudevents+json",
        "batch" => "application/cloudevents-batch+json",
        _ => "application/json",
    };

    private static string Text(string form, Random random, int brokenPercent, string? type, List<Header> headers)
    {
        int rows = random.Chance(90) ? random.Next(1, 5) : random.Next(5, 40);
        List<SeedField> Row() => Broken(RecordSeeds.Record(random, type), random, brokenPercent);
        switch (form)
        {
            case "json":
                return Object(Row());
            case "array":
                return "[" + string.Join(",", Enumerable.Range(0, rows).Select(_ => Object(Row()))) + "]";
            case "ndjson":
                return string.Concat(Enumerable.Range(0, rows).Select(_ => Object(Row()) + random.One(["\n", "\n", "\r\n", "\n\n"])));
            case "csv":
                return Csv(random, rows, brokenPercent, type ?? random.One(RecordSeeds.Types), type is null);
            case "structured":
                return Object(Broken(Event(random, Row()), random, brokenPercent / 2));
            case "batch":
                return "[" + string.Join(",", Enumerable.Range(0, rows).Select(_ => Object(Broken(Event(random, Row()), random, brokenPercent / 2)))) + "]";
            default:
                headers.AddRange(Broken(Event(random, []), random, brokenPercent / 2)
                    .Where(field => field.Name.Length > 0 && field.Name.All(char.IsAsciiLetter) && field.Name != "data")
                    .Select(field => new Header("ce-" + field.Name, random.Chance(90) ? field.Json.Trim('"') : field.Json)));
                return Object(Row());
        }
    }

    private static List<SeedField> Broken(List<SeedField> fields, Random random, int percent)
    {
        while (random.Chance(percent))
        {
            Mutator.Break(fields, random);
        }

        return fields;
    }

    private static List<SeedField> Event(Random random, List<SeedField> record)
    {
        string type = record.FirstOrDefault(field => field.Name == "type").Json?.Trim('"') ?? random.One(RecordSeeds.Types);
        if (random.Chance(70))
        {
            record.RemoveAll(field => field.Name is "type" or "key" or "at");
        }

        return
        [
            new("specversion", "\"1.0\""), new("id", $"\"{RecordSeeds.Key(random)}\""), new("source", "\"/kitchens/12\""),
            new("type", JsonSerializer.Serialize(random.One(["com.example.", "", "a.b."]) + type + random.One(["", "", ".v2"]))),
            new("time", "\"2026-02-20T22:00:00Z\""), new("datacontenttype", "\"application/json\""), new("data", Object(record)),
        ];
    }

    private static string Object(List<SeedField> fields) =>
        "{" + string.Join(",", fields.Select(field => JsonSerializer.Serialize(field.Name) + ":" + field.Json)) + "}";

    private static string Csv(Random random, int rows, int brokenPercent, string type, bool withType)
    {
        string delimiter = random.One([",", ",", ";", "\t"]);
        string end = random.One(["\r\n", "\n"]);
        string[] names = [.. Flat(RecordSeeds.Record(random, type), withType).Select(field => field.Name)];
        var text = new StringBuilder(string.Join(delimiter, names) + end);
        for (int row = 0; row < rows; row++)
        {
            List<SeedField> fields = Broken(Flat(RecordSeeds.Record(random, type), withType), random, brokenPercent);
            text.AppendJoin(delimiter, names.Select(name => Cell(fields.FirstOrDefault(field => field.Name == name).Json ?? string.Empty)));
            text.Append(random.Chance(brokenPercent / 10) ? delimiter : string.Empty).Append(end);
        }

        return text.ToString();
    }

    private static List<SeedField> Flat(List<SeedField> fields, bool withType) =>
    [
        .. fields.Where(field => withType || field.Name != "type").SelectMany(field => field.Name is "removed" or "fitted" && field.Json.StartsWith('{')
            ? JsonDocument.Parse(field.Json).RootElement.EnumerateObject().Select(inner => new SeedField(field.Name + "." + inner.Name, inner.Value.GetRawText()))
            : [field]),
    ];

    private static string Cell(string json)
    {
        string text = json is ['"', .., '"'] ? json[1..^1] : json;
        return text.AsSpan().ContainsAny(",;\t\"\n") ? "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"" : text;
    }

    private static byte[] Encode(byte[] body, Random random, List<Header> headers)
    {
        if (!random.Chance(14))
        {
            return body;
        }

        string coding = random.Chance(85) ? random.One(["gzip", "br"]) : random.One(Nasty.Codings);
        headers.Add(new Header("Content-Encoding", coding));
        if (random.Chance(10))
        {
            return body;
        }

        var packed = new MemoryStream();
        using (Stream packer = coding == "br" ? new BrotliStream(packed, CompressionLevel.Fastest, leaveOpen: true) : new GZipStream(packed, CompressionLevel.Fastest, leaveOpen: true))
        {
            packer.Write(body);
            if (random.Next(2000) == 0)
            {
                byte[] filler = new byte[1024 * 1024];
                for (int mebibytes = random.One([1, 20, 40]); mebibytes > 0; mebibytes--)
                {
                    packer.Write(filler);
                }
            }
        }

        byte[] bytes = packed.ToArray();
        return random.Chance(40) ? Mutator.Break(bytes, random, bytes) : bytes;
    }
}
