using System.Data.Common;
using System.Security.Cryptography;
using Dapper;
using Washwear.Api.Storage;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Keeps and reads photos of visits.</summary>
/// <param name="database">The database.</param>
public sealed class PhotoQueries(Database database)
{
    private const string Of = "FROM visit_photo WHERE source = @source AND visit_key = @key";

    private const string List =
        "SELECT kind AS Kind, bytes AS Bytes, sha256 AS Sha256, received_ms AS ReceivedAt " + Of + " ORDER BY id";

    private const string InOrder = "SELECT kind AS Kind, body AS Body, sha256 AS Sha256 " + Of + " ORDER BY id";

    private static readonly Sql One = new(
        Sqlite: InOrder + " LIMIT 1 OFFSET @skip",
        SqlServer: InOrder + " OFFSET @skip ROWS FETCH NEXT 1 ROWS ONLY");

    private const string Count = "SELECT COUNT(*) " + Of;
    private const string Known = "SELECT CASE WHEN EXISTS (SELECT 1 " + Of + " AND sha256 = @sha256) THEN 1 ELSE 0 END";

    private const string Insert = """
        INSERT INTO visit_photo (source, visit_key, unit_id, received_ms, kind, sha256, bytes, body)
        VALUES (@source, @key, @unitId, @now, @kind, @sha256, @bytes, @body)
        """;

    /// <summary>The photos of a visit, in the order in which they came.</summary>
    /// <param name="source">Who sent the visit.</param>
    /// <param name="key">Key of the visit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<VisitPhoto>> ListAsync(string source, string key, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        IEnumerable<PhotoRow> rows = await connection.QueryAsync<PhotoRow>(new CommandDefinition(List, new { source, key }, cancellationToken: cancellationToken));
        return [.. rows.Select((row, index) => new VisitPhoto(index + 1, row.Kind, row.Bytes, Convert.ToHexStringLower(row.Sha256), row.ReceivedAt))];
    }

    /// <summary>The photos of the visits that one stands for: what a camera saw does not change with what was typed.</summary>
    /// <param name="visits">Those visits.</param>
    /// <param name="own">The visit's own photos; one that is among them is left out.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<EarlierPhoto>> EarlierAsync(
        IReadOnlyList<VisitRow> visits, IReadOnlyList<VisitPhoto> own, CancellationToken cancellationToken)
    {
        var photos = new List<EarlierPhoto>();
        var known = own.Select(photo => photo.Sha256).ToHashSet(StringComparer.Ordinal);
        foreach (VisitRow visit in visits.Where(visit => visit.Photos > 0))
        {
            photos.AddRange((await ListAsync(visit.Source, visit.Key, cancellationToken)).Where(photo => known.Add(photo.Sha256))
                .Select(photo => new EarlierPhoto(visit.Key, photo.Number, photo.ContentType, photo.Bytes, photo.Sha256, photo.ReceivedAt)));
        }

        return photos;
    }

    /// <summary>One photo of a visit with its bytes.</summary>
    /// <param name="source">Who sent the visit.</param>
    /// <param name="key">Key of the visit.</param>
    /// <param name="number">Its place, from 1.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <returns>Media type, bytes and SHA-256; null when there is none.</returns>
    public async Task<(string Kind, byte[] Body, string Sha256)?> ReadAsync(
        string source, string key, int number, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        PhotoRow? row = await connection.QuerySingleOrDefaultAsync<PhotoRow>(
            new CommandDefinition(One.For(connection), new { source, key, skip = number - 1 }, cancellationToken: cancellationToken));
        return row is null ? null : (row.Kind, row.Body, Convert.ToHexStringLower(row.Sha256));
    }

    /// <summary>Keeps photos of a visit; one that is there already is kept once.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="photos">Media type and bytes of each.</param>
    /// <param name="now">When they came.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>How many were left out because the visit has as many as it may have.</returns>
    public Task<int> AddAsync(
        VisitRow visit, IReadOnlyList<(string Kind, byte[] Body)> photos, DateTimeOffset now, CancellationToken cancellationToken) =>
        database.WriteAsync(
            async session =>
            {
                int tooMany = 0;
                foreach ((string kind, byte[] body) in photos)
                {
                    var row = new { source = visit.Source, key = visit.Key, unitId = visit.UnitId, now, kind, sha256 = SHA256.HashData(body), bytes = body.Length, body };
                    if (await session.Connection.ExecuteScalarAsync<bool>(session.Command(Known, row, cancellationToken)))
                    {
                        continue;
                    }

                    if (await session.Connection.ExecuteScalarAsync<int>(session.Command(Count, row, cancellationToken)) >= VisitPhoto.Most)
                    {
                        tooMany++;
                        continue;
                    }

                    await session.Connection.ExecuteAsync(session.Command(Insert, row, cancellationToken));
                }

                return tooMany;
            },
            cancellationToken);

    private sealed class PhotoRow
    {
        public required string Kind { get; init; }

        public long Bytes { get; init; }

        public required byte[] Sha256 { get; init; }

        public byte[] Body { get; init; } = [];

        public DateTimeOffset ReceivedAt { get; init; }
    }
}
