using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>Keeps refused rows within one transaction, and lets go of those that came right. Not safe for concurrent use.</summary>
internal sealed class RefusedWriter : IDisposable
{
    private const string Again = """
        UPDATE refused SET received_ms = @received_ms, row = @row, problem = @problem, times = times + 1
        WHERE source = @source AND body_hash = @body_hash
        """;

    private const string Insert = """
        INSERT INTO refused (received_ms, source, row, "key", format, body, body_hash, problem)
        VALUES (@received_ms, @source, @row, @key, @format, @body, @body_hash, @problem)
        """;

    private const string SelectAny = "SELECT CASE WHEN EXISTS (SELECT 1 FROM refused r WHERE r.\"key\" IS NOT NULL) THEN 1 ELSE 0 END";

    private static readonly Sql DeleteByKeys = new(
        Sqlite: """
            DELETE FROM refused WHERE EXISTS (
                SELECT 1 FROM json_each(@keys) k
                WHERE refused.source = k.value ->> '$.source' AND refused.key = k.value ->> '$.key')
            """,
        SqlServer: """
            DELETE FROM refused WHERE EXISTS (
                SELECT 1 FROM OPENJSON(@keys) WITH (source NVARCHAR(64) '$.source', "key" NVARCHAR(200) '$.key') k
                WHERE refused.source = k.source COLLATE Latin1_General_BIN2 AND refused."key" = k."key" COLLATE Latin1_General_BIN2)
            """);

    private const string DeleteByKey = "DELETE FROM refused WHERE source = @source AND \"key\" = @key";

    private readonly Statement _again;
    private readonly Statement _insert;
    private readonly Statement _deleteByKey;
    private readonly Statement _deleteByKeys;
    private readonly List<(string Source, string Key)> _cameRight = [];
    private readonly bool _gathers;
    private readonly long _receivedMs;
    private bool _any;

    /// <summary>Begins to keep.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="receivedAt">When the rows came in.</param>
    public RefusedWriter(WriteSession session, DateTimeOffset receivedAt)
    {
        _receivedMs = receivedAt.ToUnixTimeMilliseconds();
        _again = new(session, Again, "received_ms", "source", "row", "body_hash", "problem");
        _insert = new(session, Insert, "received_ms", "source", "row", "key", "format", "body", "body_hash", "problem");
        _deleteByKey = new(session, DeleteByKey, "source", "key");
        _deleteByKeys = new(session, DeleteByKeys, "keys");
        _gathers = session.GathersRows;
        using var any = new Statement(session, SelectAny);
        _any = any.Number() != 0;
    }

    /// <summary>Keeps a row, unless there is nothing of it to keep.</summary>
    /// <param name="row">The row.</param>
    /// <param name="problem">Why it is refused.</param>
    public void Keep(IncomingRow row, RowProblem problem)
    {
        if (row.Record is null && string.IsNullOrWhiteSpace(row.Text is null ? null : row.Body()))
        {
            return;
        }

        _any |= row.Key is not null;
        Flush();
        string body = row.Body();
        byte[] hash = SHA256.HashData(Encoding.UTF8.GetBytes(body));
        string text = JsonSerializer.Serialize(problem, Json.Options);
        if (_again.Run(_receivedMs, row.Source, (long)row.Number, hash, text) == 0)
        {
            _insert.Run(_receivedMs, row.Source, (long)row.Number, row.Key, row.FormatName, body, hash, text);
        }
    }

    /// <summary>Lets go of the refused rows of a source and key, since a record under them has now been taken in.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    public void CameRight(string source, string key)
    {
        if (_any && _gathers)
        {
            _cameRight.Add((source, key));
        }
        else if (_any)
        {
            _deleteByKey.Run(source, key);
        }
    }

    /// <summary>Lets go of those that came right and were only noted.</summary>
    public void Flush()
    {
        if (_cameRight.Count > 0)
        {
            _deleteByKeys.Run(JsonSerializer.Serialize(_cameRight.Select(one => new { source = one.Source, key = one.Key })));
            _cameRight.Clear();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (Statement statement in (Statement[])[_again, _insert, _deleteByKey, _deleteByKeys])
        {
            statement.Dispose();
        }
    }
}
