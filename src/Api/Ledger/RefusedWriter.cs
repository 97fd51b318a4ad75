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
    private const string Insert = """
        INSERT INTO refused (received_ms, source, row, key, format, body, body_hash, problem)
        VALUES (@received_ms, @source, @row, @key, @format, @body, @body_hash, @problem)
        ON CONFLICT (source, body_hash) DO UPDATE SET
            received_ms = excluded.received_ms, row = excluded.row, problem = excluded.problem, times = times + 1
        """;

    private const string SelectAny = "SELECT EXISTS (SELECT 1 FROM refused WHERE key IS NOT NULL)";
    private const string DeleteByKey = "DELETE FROM refused WHERE source = @source AND key = @key";

    private readonly Statement _insert;
    private readonly Statement _deleteByKey;
    private readonly long _receivedMs;
    private bool _any;

    /// <summary>Begins to keep.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="receivedAt">When the rows came in.</param>
    public RefusedWriter(WriteSession session, DateTimeOffset receivedAt)
    {
        _receivedMs = receivedAt.ToUnixTimeMilliseconds();
        _insert = new(session, Insert, "received_ms", "source", "row", "key", "format", "body", "body_hash", "problem");
        _deleteByKey = new(session, DeleteByKey, "source", "key");
        using var any = new Statement(session, SelectAny);
        _any = (long)any.Value()! != 0;
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
        string body = row.Body();
        _insert.Run(
            _receivedMs, row.Source, (long)row.Number, row.Key, row.FormatName, body,
            SHA256.HashData(Encoding.UTF8.GetBytes(body)), JsonSerializer.Serialize(problem, Json.Options));
    }

    /// <summary>Lets go of the refused rows of a source and key, since a record under them has now been taken in.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    public void CameRight(string source, string key)
    {
        if (_any)
        {
            _deleteByKey.Run(source, key);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _insert.Dispose();
        _deleteByKey.Dispose();
    }
}
