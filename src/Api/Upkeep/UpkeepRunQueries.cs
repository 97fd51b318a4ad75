using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Upkeep;

/// <summary>What a task came to.</summary>
internal sealed class UpkeepRun
{
    public required string Task { get; init; }

    public DateTimeOffset BegunAt { get; init; }

    public DateTimeOffset EndedAt { get; init; }

    public bool Succeeded { get; init; }

    public required string Sentence { get; init; }
}

/// <summary>Statements over what was done to keep the installation well.</summary>
/// <param name="database">The database.</param>
internal sealed class UpkeepRunQueries(Database database)
{
    private const string Columns = """
        SELECT r.task AS Task, r.begun_ms AS BegunAt, r.ended_ms AS EndedAt, r.succeeded AS Succeeded, r.sentence AS Sentence FROM upkeep_run r
        """;

    private const string LastSql = Columns + " WHERE r.id = (SELECT max(x.id) FROM upkeep_run x WHERE x.task = r.task)";
    private const string LastWellSql = Columns + " WHERE r.id = (SELECT max(x.id) FROM upkeep_run x WHERE x.task = r.task AND x.succeeded = 1)";

    private const string AddSql = """
        INSERT INTO upkeep_run (task, begun_ms, ended_ms, succeeded, sentence) VALUES (@task, @begun, @ended, @succeeded, @sentence)
        """;

    /// <summary>The last of each task, and the last of each that went well.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<(IReadOnlyList<UpkeepRun> Last, IReadOnlyList<UpkeepRun> LastWell)> LastAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (
            [.. await connection.QueryAsync<UpkeepRun>(new CommandDefinition(LastSql, cancellationToken: cancellationToken))],
            [.. await connection.QueryAsync<UpkeepRun>(new CommandDefinition(LastWellSql, cancellationToken: cancellationToken))]);
    }

    /// <summary>Notes what a task came to.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="run">What it came to.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public static Task AddAsync(WriteSession session, UpkeepRun run, CancellationToken cancellationToken) => session.Connection.ExecuteAsync(session.Command(
        AddSql,
        new { task = run.Task, begun = run.BegunAt, ended = run.EndedAt, succeeded = run.Succeeded ? 1 : 0, sentence = run.Sentence },
        cancellationToken));
}
