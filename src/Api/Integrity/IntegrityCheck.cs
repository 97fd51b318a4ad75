using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Integrity;

/// <summary>What is wrong with a database, and what to do about it.</summary>
/// <param name="Faults">What is wrong, one line each, at most a hundred of each kind; empty: nothing.</param>
/// <param name="Verdict">All in one sentence, with what to do.</param>
internal sealed record IntegrityReport(IReadOnlyList<string> Faults, string Verdict);

/// <summary>
/// Checks a database from the inside out: whether the engine can read all of it, whether records, photos and refused rows say what was
/// hashed when they came, whether what counts is what the records say, and whether what is derived is what the records give.
/// </summary>
/// <param name="settings">Where the database is.</param>
internal sealed class IntegrityCheck(Settings settings)
{
    private const int MostOfAKind = 100;

    private const string Whole = "The database is whole.";

    private const string Damaged =
        "The database is damaged: restore a backup. What can still be read is saved by 'salvage FOLDER', which writes files that 'import' takes into a new database.";

    private const string Derived = "The records are whole, but what is derived from them is not: run 'rebuild', which derives it anew.";

    /// <summary>Checks the database, which may be in use.</summary>
    /// <param name="quick">Whether only the engine's own check is wanted.</param>
    /// <param name="cancellationToken">Stops.</param>
    public async Task<IntegrityReport> RunAsync(bool quick, CancellationToken cancellationToken)
    {
        using var database = new Database(settings);
        IReadOnlyList<string> faults = await EngineAsync(database, cancellationToken);
        if (faults.Count > 0 || quick)
        {
            return new IntegrityReport(faults, faults.Count == 0 ? "The file is whole; its content was not looked at." : Damaged);
        }

        faults = await ContentAsync(database, cancellationToken);
        if (faults.Count > 0)
        {
            return new IntegrityReport(faults, Damaged);
        }

        // Only the embedded engine gives a copy to try it on.
        faults = database.Engine.Name == "sqlite" ? await DerivedAsync(database, cancellationToken) : [];
        return new IntegrityReport(faults, faults.Count == 0 ? Whole : Derived);
    }

    private static async Task<IReadOnlyList<string>> EngineAsync(Database database, CancellationToken cancellationToken)
    {
        try
        {
            await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
            return await IntegrityQueries.FaultsAsync(connection, cancellationToken);
        }
        catch (DbException error) when (DatabaseFault.StatusOf(error) == StatusCodes.Status500InternalServerError)
        {
            return ["The file cannot be read as a database: " + error.Message];
        }
    }

    private static async Task<IReadOnlyList<string>> ContentAsync(Database database, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction oneView = Database.BeginReading(connection);
        var content = new ContentQueries(connection, oneView);
        try
        {
            return
            [
                .. Some(content.Missing()), .. Some(content.Records()), .. Some(content.Voids()), .. Some(content.Kept()),
                .. await RegistryAsync(database, cancellationToken),
            ];
        }
        catch (DbException error)
        {
            return ["The content cannot be read: " + error.Message];
        }
    }

    private static async Task<IReadOnlyList<string>> RegistryAsync(Database database, CancellationToken cancellationToken)
    {
        try
        {
            using var registry = new RegistryCache(database);
            _ = (await registry.CurrentAsync(cancellationToken)).Cleaning;
            return [];
        }
        catch (Exception error) when (error is JsonException or FormatException or ArgumentException or KeyNotFoundException or InvalidOperationException)
        {
            return ["The registry cannot be read: " + error.Message];
        }
    }

    // On a copy beside the database, so that nobody waits for it and nothing of it stays.
    private async Task<IReadOnlyList<string>> DerivedAsync(Database database, CancellationToken cancellationToken)
    {
        string file = string.Create(CultureInfo.InvariantCulture, $"{database.File}.checked-{Environment.ProcessId}");
        try
        {
            await database.BackupAsync(file, cancellationToken);
            using var copy = new Database(settings.With(("database", file)));
            using var cache = new RegistryCache(copy);
            RegistrySnapshot registry = await cache.CurrentAsync(cancellationToken);
            return await copy.WriteAsync(
                session => Task.FromResult<IReadOnlyList<string>>(
                    [.. Some(ProjectionDigests.Differences(session, registry).Select(unit =>
                        $"What is derived of unit {registry.UnitsById[unit.UnitId].Resource.Unit} is not what its records give: {string.Join(", ", unit.Tables)}."))]),
                cancellationToken);
        }
        finally
        {
            foreach (string part in (string[])[file, file + "-wal", file + "-shm", file + "-journal"])
            {
                File.Delete(part);
            }
        }
    }

    private static IEnumerable<string> Some(IEnumerable<string> faults)
    {
        int told = 0;
        foreach (string fault in faults)
        {
            if (told == MostOfAKind)
            {
                yield return string.Create(CultureInfo.InvariantCulture, $"... and more of this kind; the first {MostOfAKind} are listed.");
                yield break;
            }

            told++;
            yield return fault;
        }
    }
}
