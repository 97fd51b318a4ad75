using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Integrity;

/// <summary>Writes what can still be read of a damaged database into files that 'import' takes in: the registry, the records, and apart from
/// them the records that no longer say what was taken in.</summary>
/// <param name="database">The database.</param>
/// <param name="folder">Where to; exists.</param>
internal sealed class SalvagedFiles(Database database, string folder)
{
    /// <summary>Name of the file of the registry.</summary>
    public const string Registry = "registry.json";

    /// <summary>Name of the file of records.</summary>
    public const string Records = "records.ndjson";

    /// <summary>Name of the file of records that were changed by the damage.</summary>
    public const string Changed = "changed-records.ndjson";

    private static readonly (string Section, string Table)[] Sections =
    [
        ("operators", "operator"), ("sites", "site"), ("models", "model"), ("units", "unit"), ("rules", "rule"), ("suppliers", "supplier"), ("parts", "part"),
        ("stock_points", "stock_point"),
    ];

    /// <summary>Writes them.</summary>
    /// <param name="cancellationToken">Stops.</param>
    /// <returns>What was written and what was not, a line each.</returns>
    public async Task<IReadOnlyList<string>> WriteAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var queries = new SalvageQueries(connection);
        string registry = await WholeRegistryAsync(cancellationToken) ?? PiecesOfRegistry(queries);
        await File.WriteAllTextAsync(Path.Combine(folder, Registry), registry, cancellationToken);
        (int whole, int changed) = await WriteRecordsAsync(queries, cancellationToken);
        return
        [
            .. queries.Unreadable,
            string.Create(CultureInfo.InvariantCulture, $"{whole} records are in {Records}; {changed} that no longer say what was taken in are in {Changed}."),
            $"The registry is in {Registry}. Import it first, then the records. Photos, alerts, webhooks, keys and decisions about plans are not saved this way.",
        ];
    }

    private async Task<string?> WholeRegistryAsync(CancellationToken cancellationToken)
    {
        try
        {
            using var cache = new RegistryCache(database);
            return JsonSerializer.Serialize(RegistryDocuments.Of(await cache.CurrentAsync(cancellationToken)), Json.Options);
        }
        catch (Exception error) when (error is DbException or JsonException or FormatException or ArgumentException or KeyNotFoundException
            or InvalidOperationException or InvalidCastException)
        {
            return null;
        }
    }

    private static string PiecesOfRegistry(SalvageQueries queries)
    {
        IEnumerable<string> sections = Sections.Select(section =>
            $"\"{section.Section}\":[{string.Join(",\n", queries.Bodies(section.Table).Where(IsJson))}]");
        return "{" + string.Join(",\n", sections) + "}";
    }

    private static bool IsJson(string text)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(text);
            return document.RootElement.ValueKind == JsonValueKind.Object;
        }
        catch (JsonException)
        {
            return false;
        }
    }

    private async Task<(int Whole, int Changed)> WriteRecordsAsync(SalvageQueries queries, CancellationToken cancellationToken)
    {
        int whole = 0;
        int changed = 0;
        await using var good = new StreamWriter(Path.Combine(folder, Records));
        await using var doubtful = new StreamWriter(Path.Combine(folder, Changed));
        foreach (StoredRecord stored in queries.Records())
        {
            cancellationToken.ThrowIfCancellationRequested();
            whole += stored.IsWhole ? 1 : 0;
            changed += stored.IsWhole ? 0 : 1;
            await (stored.IsWhole ? good : doubtful).WriteLineAsync(Text(stored));
        }

        return (whole, changed);
    }

    private static string Text(StoredRecord stored) => stored.Record is { } record
        ? RecordJson.Write(record)
        : JsonSerializer.Serialize(new Dictionary<string, object> { ["type"] = stored.Type, ["source"] = stored.Source, ["key"] = stored.Key }, Json.Options);
}
