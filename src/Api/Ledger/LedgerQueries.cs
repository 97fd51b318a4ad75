using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>A record that was taken in.</summary>
/// <param name="Seq">Order of acceptance; unique.</param>
/// <param name="Type">Type.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key.</param>
/// <param name="Unit">Asset tag of the unit; null for a void.</param>
/// <param name="At">When it happened.</param>
/// <param name="ReceivedAt">When it was taken in.</param>
/// <param name="Replaces">Key of the record that it stands for.</param>
/// <param name="Voided">Whether it no longer counts.</param>
public sealed record TakenRecord(
    long Seq,
    string Type,
    string Source,
    string Key,
    string? Unit,
    DateTimeOffset At,
    DateTimeOffset ReceivedAt,
    string? Replaces,
    bool Voided);

/// <summary>A row that was refused and is kept until it comes right.</summary>
/// <param name="Id">Number by which it can be discarded.</param>
/// <param name="ReceivedAt">When it was last sent.</param>
/// <param name="Times">How often the same text was sent.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Row">Its place in its request.</param>
/// <param name="Key">The sender's key, as far as it could be read.</param>
/// <param name="Format">json, csv or cloudevent; a CSV row comes with its header, an event in binary mode with its headers before an empty line.</param>
/// <param name="Body">The row as it came.</param>
/// <param name="Problem">Why it was refused and how to mend it.</param>
public sealed record RefusedRecord(
    long Id,
    DateTimeOffset ReceivedAt,
    int Times,
    string Source,
    int Row,
    string? Key,
    string Format,
    string Body,
    RowProblem Problem);

/// <summary>Reads the ledger as it is.</summary>
/// <param name="database">The database.</param>
public sealed class LedgerQueries(Database database)
{
    private static readonly Sql Taken = Sql.FirstRows(
        """
        SELECT r.seq AS Seq, r.type AS Type, r.source AS Source, r."key" AS "Key", r.unit_id AS UnitId, r.at_ms AS AtMs,
               r.received_ms AS ReceivedMs, r.replaces AS Replaces, CASE WHEN v.by_seq IS NULL THEN 0 ELSE 1 END AS Voided
        FROM record r
        LEFT JOIN voided v ON v.source = r.source AND v."key" = r."key"
        WHERE r.seq > @After AND (@UnitId IS NULL OR r.unit_id = @UnitId) AND (@Type IS NULL OR r.type = @Type)
        ORDER BY r.seq
        """,
        "@Limit");

    private static readonly Sql Refused = Sql.FirstRows(
        """
        SELECT r.id AS Id, r.received_ms AS ReceivedMs, r.times AS Times, r.source AS Source, r.row AS Row, r."key" AS "Key",
               r.format AS Format, r.body AS Body, r.problem AS Problem
        FROM refused r
        WHERE r.id > @After AND (@Source IS NULL OR r.source = @Source)
        ORDER BY r.id
        """,
        "@Limit");

    private const string RefusedIsThere = "SELECT CASE WHEN EXISTS (SELECT 1 FROM refused WHERE id = @Id) THEN 1 ELSE 0 END";
    private const string Discard = "DELETE FROM refused WHERE id = @Id";

    /// <summary>Records in the order of acceptance.</summary>
    /// <param name="registry">Names the units.</param>
    /// <param name="unit">Only of this unit; null: of all.</param>
    /// <param name="type">Only of this type; null: of all.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<PageOf<TakenRecord>> TakenAsync(
        RegistrySnapshot registry, UnitEntry? unit, string? type, PageRequest page, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var asked = new { After = After(page), UnitId = unit?.Id, Type = type, Limit = page.Limit + 1 };
        IEnumerable<TakenRow> rows = await connection.QueryAsync<TakenRow>(new CommandDefinition(Taken.For(connection), asked, cancellationToken: cancellationToken));
        return Paging.Trim([.. rows.Select(row => row.ToRecord(registry))], record => [Text(record.Seq)], page);
    }

    /// <summary>Refused rows, oldest first.</summary>
    /// <param name="source">Only of this source; null: of all.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<PageOf<RefusedRecord>> RefusedAsync(string? source, PageRequest page, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var asked = new { After = After(page), Source = source, Limit = page.Limit + 1 };
        IEnumerable<RefusedRow> rows =
            await connection.QueryAsync<RefusedRow>(new CommandDefinition(Refused.For(connection), asked, cancellationToken: cancellationToken));
        return Paging.Trim([.. rows.Select(row => row.ToRecord())], record => [Text(record.Id)], page);
    }

    /// <summary>Discards a refused row.</summary>
    /// <param name="id">Its number.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was one.</returns>
    public async Task<bool> DiscardAsync(long id, CancellationToken cancellationToken)
    {
        // The transaction sees everything, the caller perhaps a part.
        await using (DbConnection connection = await database.OpenReadAsync(cancellationToken))
        {
            if (!await connection.ExecuteScalarAsync<bool>(new CommandDefinition(RefusedIsThere, new { Id = id }, cancellationToken: cancellationToken)))
            {
                return false;
            }
        }

        return await database.WriteAsync(
            async session => await session.Connection.ExecuteAsync(session.Command(Discard, new { Id = id }, cancellationToken)) > 0, cancellationToken);
    }

    private static long After(PageRequest page) =>
        page.After is { } after && long.TryParse(after[0], NumberStyles.None, CultureInfo.InvariantCulture, out long number) ? number : 0;

    private static string Text(long number) => number.ToString(CultureInfo.InvariantCulture);

    private sealed class TakenRow
    {
        public long Seq { get; init; }

        public required string Type { get; init; }

        public required string Source { get; init; }

        public required string Key { get; init; }

        public int? UnitId { get; init; }

        public long AtMs { get; init; }

        public long ReceivedMs { get; init; }

        public string? Replaces { get; init; }

        public long Voided { get; init; }

        public TakenRecord ToRecord(RegistrySnapshot registry) => new(
            Seq,
            Type,
            Source,
            Key,
            UnitId is { } id ? registry.UnitsById[id].Resource.Unit : null,
            DateTimeOffset.FromUnixTimeMilliseconds(AtMs),
            DateTimeOffset.FromUnixTimeMilliseconds(ReceivedMs),
            Replaces,
            Voided != 0);
    }

    private sealed class RefusedRow
    {
        public long Id { get; init; }

        public long ReceivedMs { get; init; }

        public int Times { get; init; }

        public required string Source { get; init; }

        public int Row { get; init; }

        public string? Key { get; init; }

        public required string Format { get; init; }

        public required string Body { get; init; }

        public required string Problem { get; init; }

        public RefusedRecord ToRecord() => new(
            Id,
            DateTimeOffset.FromUnixTimeMilliseconds(ReceivedMs),
            Times,
            Source,
            Row,
            Key,
            Format,
            Body,
            JsonSerializer.Deserialize<RowProblem>(Problem, Json.Options)!);
    }
}
