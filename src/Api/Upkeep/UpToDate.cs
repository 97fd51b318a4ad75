using System.Globalization;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Upkeep;

/// <summary>Brings a database up to date as a whole, so that nobody has to know how: a newer one is refused, a copy of an older one is kept,
/// scripts are applied, and what an older program derived otherwise is derived anew.</summary>
/// <param name="database">The database.</param>
/// <param name="registry">The registry.</param>
/// <param name="settings">Whether a copy is kept.</param>
/// <param name="clock">The clock.</param>
internal sealed class UpToDate(Database database, RegistryCache registry, Settings settings, TimeProvider clock)
{
    /// <summary>Does it; to be called before anything else is done with the database.</summary>
    /// <param name="cancellationToken">Stops between the steps.</param>
    /// <returns>What was done, a line each; empty: nothing had to be.</returns>
    /// <exception cref="InvalidOperationException">The database is of a newer version, or a script failed.</exception>
    /// <exception cref="IOException">There is no room for the copy; nothing was changed.</exception>
    public async Task<IReadOnlyList<string>> BringAsync(CancellationToken cancellationToken)
    {
        Migrator.RefuseNewer(database);
        var done = new List<string>();
        if (settings.MigrationCopy && database.Engine.Name == "sqlite" && Migrator.SchemaOf(database) is { } schema && !Migrator.IsCurrent(database))
        {
            string copy = await MigrationCopy.MakeAsync(database, schema, clock.GetUtcNow(), cancellationToken);
            done.Add($"The database as it was, schema {schema}, is kept as {copy}.");
        }

        IReadOnlyList<string> applied = Migrator.Migrate(database);
        if (applied.Count > 0)
        {
            done.Add($"Applied {string.Join(", ", applied)}.");
        }

        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        int? units = await database.WriteAsync(session => ProjectionKind.EnsureAsync(session, snapshot), cancellationToken);
        if (units is { } count)
        {
            done.Add(string.Create(CultureInfo.InvariantCulture, $"What is derived of {count} units was derived anew from their records, as this version does it."));
        }

        return done;
    }

    /// <summary>Does it and says each thing that was done.</summary>
    /// <param name="cancellationToken">Stops between the steps.</param>
    /// <returns>Whether anything had to be done.</returns>
    public async Task<bool> BringAndTellAsync(CancellationToken cancellationToken)
    {
        IReadOnlyList<string> done = await BringAsync(cancellationToken);
        foreach (string line in done)
        {
            Console.Out.WriteLine(line);
        }

        return done.Count > 0;
    }
}
