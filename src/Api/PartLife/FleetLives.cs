using System.Data.Common;
using NodaTime;
using Washwear.Analytics.PartLife;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.PartLife;

/// <summary>Turns the part lives on record into ages on each clock, and those into the lives that Analytics takes.</summary>
/// <param name="registry">The registry.</param>
/// <param name="queries">Reads part lives.</param>
/// <param name="database">The database.</param>
public sealed class FleetLives(RegistryCache registry, PartLifeQueries queries, Database database)
{
    private const double MillisecondsPerDay = 86_400_000;

    /// <summary>Reason for a life whose ages cannot be told on the clock asked for.</summary>
    public const string NotOnThisClock = "its age cannot be told on this clock";

    private static readonly (int First, int Last) AllUnits = (int.MinValue, int.MaxValue);

    // More connections than this wait for each other's pages.
    private const int MostReaders = 6;

    /// <summary>Lives on record, aged on every clock.</summary>
    /// <param name="position">Only of this position; null: of all.</param>
    /// <param name="asOf">Parts still fitted are as old as at this instant, or when their silent unit was last heard.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <param name="unitId">Only of this unit; null: of all.</param>
    /// <param name="daysOnly">Whether ages in days are enough; the others ask for all washes and meter readings of the units.</param>
    /// <param name="withLooks">Whether <see cref="FleetLife.LookedPoor"/> is wanted, which takes reading all looks.</param>
    public async Task<IReadOnlyList<FleetLife>> LoadAsync(
        string? position, DateTimeOffset asOf, CancellationToken cancellationToken, int? unitId = null, bool daysOnly = false,
        bool withLooks = false)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction transaction = Database.BeginReading(connection);
        (int, int) units = unitId is { } one ? (one, one) : AllUnits;
        IReadOnlyDictionary<int, long> heard = await queries.LastHeardAsync(connection, transaction, units, cancellationToken);
        PartLooks looks = withLooks ? await PartLooks.LoadAsync(queries, connection, transaction, cancellationToken) : PartLooks.None;
        IEnumerable<PartLifeRecord> records =
            PartLifeQueries.Lives(connection, transaction, position, units);
        LifeClocks clocks = LifeClocks.None;
        if (!daysOnly)
        {
            PartLifeRecord[] all = [.. records];
            HashSet<(int, long)> moments = [.. all.SelectMany(record => Moments(record, End(record, snapshot.Cleaning.ById[record.UnitId], heard, asOf)))];
            clocks = await LifeClocks.LoadAsync(connection, transaction, moments, cancellationToken);
            records = all;
        }

        return [.. records.Select(record => Life(record, snapshot.Cleaning.ById[record.UnitId], clocks, heard, asOf, looks))];
    }

    /// <summary>All lives on record, aged in days: units are shared out among several connections, so that the lives of one unit are of one commit,
    /// those of two units may be of two.</summary>
    /// <param name="asOf">Parts still fitted are as old as at this instant, or when their silent unit was last heard.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<FleetLife>> LoadFleetAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        IReadOnlyDictionary<int, long> heard;
        await using (DbConnection connection = await database.OpenReadAsync(cancellationToken))
        await using (DbTransaction transaction = Database.BeginReading(connection))
        {
            heard = await queries.LastHeardAsync(connection, transaction, AllUnits, cancellationToken);
        }

        FleetLife[][] shares = await Task.WhenAll(Shares(snapshot).Select(units => Task.Run(
            async () =>
            {
                await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
                await using DbTransaction transaction = Database.BeginReading(connection);
                return PartLifeQueries.Lives(connection, transaction, null, units)
                    .Select(record => Life(record, snapshot.Cleaning.ById[record.UnitId], LifeClocks.None, heard, asOf, PartLooks.None)).ToArray();
            },
            cancellationToken)));
        return [.. shares.SelectMany(share => share)];
    }

    // Ranges of unit numbers with about as many units each; the last is open, for units that came since.
    private static IEnumerable<(int First, int Last)> Shares(RegistrySnapshot snapshot)
    {
        int[] numbers = [.. snapshot.Cleaning.ById.Keys.Order()];
        int readers = Math.Clamp(Math.Min(Environment.ProcessorCount, numbers.Length / 500), 1, MostReaders);
        for (int i = 0; i < readers; i++)
        {
            int first = i == 0 ? int.MinValue : numbers[i * numbers.Length / readers];
            yield return (first, i == readers - 1 ? int.MaxValue : numbers[(i + 1) * numbers.Length / readers] - 1);
        }
    }

    /// <summary>Lives as Analytics takes them, what cannot be used being counted by reason.</summary>
    /// <param name="lives">The lives.</param>
    /// <param name="clock">The clock.</param>
    public static Lives OnClock(IReadOnlyCollection<FleetLife> lives, LifeClock clock)
    {
        var builder = new LivesBuilder(Name(clock), lives.Count);
        var spellings = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        foreach (FleetLife life in lives)
        {
            // Analytics tells modes apart by their letters; here they are compared without case, as all codes.
            string? mode = life.FailureMode;
            if (mode is not null && !spellings.TryGetValue(mode, out mode))
            {
                spellings.Add(mode = life.FailureMode!, mode);
            }

            Add(builder, life, mode, clock);
        }

        return builder.Build();
    }

    /// <summary>The name of a clock, as addresses and reports spell it.</summary>
    /// <param name="clock">The clock.</param>
    public static string Name(LifeClock clock) => clock switch
    {
        LifeClock.Days => "days",
        LifeClock.Washes => "washes",
        LifeClock.OperatingHours => "operating_hours",
        _ => throw new ArgumentOutOfRangeException(nameof(clock), clock, "A clock without a name."),
    };

    /// <summary>The clock of a name; null for null.</summary>
    /// <param name="name">days, washes or operating_hours.</param>
    public static LifeClock? Clock(string? name) => name is null ? null : Enum.GetValues<LifeClock>().First(clock => Name(clock) == name);

    private static void Add(LivesBuilder builder, FleetLife life, string? mode, LifeClock clock)
    {
        if (life.Doubt is not null)
        {
            builder.Exclude(life.Doubt);
        }
        else if (!life.Ages.TryGetValue(clock, out LifeAges ages) || ages.End <= ages.Entry)
        {
            builder.Exclude(NotOnThisClock);
        }
        else if (!life.Failed)
        {
            _ = life.LookedPoor ? builder.SwappedWhenPoorAt(ages.End, ages.Entry) : builder.StillRunningAt(ages.End, ages.Entry);
        }
        else if (life.EndedHow == "failed")
        {
            builder.FailedAt(ages.End, ages.Entry, mode);
        }
        else if (ages.LastSeenGood is { } seen && seen >= ages.End)
        {
            // No wash ran between the two looks: on this clock the age at failure is known.
            builder.FailedAt(ages.End, ages.Entry, mode);
        }
        else
        {
            builder.FailedBetween(Math.Max(ages.LastSeenGood ?? 0, ages.Entry), ages.End, ages.Entry, mode);
        }
    }

    private static FleetLife Life(
        in PartLifeRecord record, UnitTerms unit, LifeClocks clocks, IReadOnlyDictionary<int, long> heard, DateTimeOffset asOf, PartLooks looks)
    {
        bool ended = HasEnded(record, asOf);
        long end = End(record, unit, heard, asOf);
        return new FleetLife(
            unit.Unit,
            record.Position,
            record.Ordinal,
            record.PartNumber,
            record.Batch,
            record.Supplier,
            At(record.FittedMs),
            ended ? At(record.EndedMs) : null,
            ended ? record.EndedHow : null,
            record.FailureMode,
            record.Doubt is not null ? default : clocks == LifeClocks.None ? new AgesByClock(DaysOf(record, end)) : Ages(record, clocks, end),
            record.Doubt,
            looks.LookedPoor(record));
    }

    private static bool HasEnded(in PartLifeRecord record, DateTimeOffset asOf) => record.EndedMs <= asOf.ToUnixTimeMilliseconds();

    /// <returns>When the part ended, or was last known to be fitted, ms UTC.</returns>
    private static long End(in PartLifeRecord record, UnitTerms unit, IReadOnlyDictionary<int, long> heard, DateTimeOffset asOf)
    {
        if (HasEnded(record, asOf))
        {
            return record.EndedMs!.Value;
        }

        // Somebody fitted the part, even where the unit has not been heard since.
        long lastLook = LastLook(unit, heard.TryGetValue(record.UnitId, out long last) ? last : null, asOf.ToUnixTimeMilliseconds());
        return Math.Max(lastLook, record.WatchedFromMs ?? lastLook);
    }

    /// <returns>The moments at which its unit's counters have to be known.</returns>
    private static IEnumerable<(int UnitId, long AtMs)> Moments(PartLifeRecord record, long end) => record is { Doubt: null, EntryAgeWashes: not null }
        ? new[] { record.FittedMs, record.WatchedFromMs, record.LastSeenGoodMs, end }.OfType<long>().Select(at => (record.UnitId, at))
        : [];

    /// <summary>When a unit was last known to be as it is: as of now, or when it was last heard if it has been silent since.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="heardMs">When it was last heard, ms UTC; null: never.</param>
    /// <param name="asOfMs">Now, ms UTC.</param>
    internal static long LastLook(UnitTerms unit, long? heardMs, long asOfMs)
    {
        // A silent unit may have lost a part since.
        long reporting = (long)(unit.Service.ReportingTime ?? Duration.Zero).TotalMilliseconds;
        return heardMs is { } heard && asOfMs - heard > reporting ? heard : asOfMs;
    }

    // Of a used part nobody knows the operating hours before it was fitted here.
    private static AgesByClock Ages(PartLifeRecord record, LifeClocks clocks, long end) => new(
        DaysOf(record, end),
        record.EntryAgeWashes is { } washes ? Counted(washes, record, at => clocks.WashesBetween(record.UnitId, record.FittedMs!.Value, at), end) : null,
        record.EntryAgeWashes == 0 ? Counted(0, record, at => clocks.OperatingHoursBetween(record.UnitId, record.FittedMs!.Value, at), end) : null);

    private static LifeAges? DaysOf(in PartLifeRecord record, long end)
    {
        if (record.EntryAgeDays is not { } entryDays)
        {
            return null;
        }

        // In whole milliseconds, so that parts that entered at different ages and end at the same one are tied to the last digit.
        double entryMs = Math.Round(entryDays * MillisecondsPerDay);
        long watched = record.WatchedFromMs!.Value;
        double Days(long at) => (entryMs + (at - watched)) / MillisecondsPerDay;
        return new LifeAges(Days(watched), record.LastSeenGoodMs is { } seen ? Days(seen) : null, Days(end));
    }

    private static LifeAges? Counted(double atFitting, PartLifeRecord record, Func<long, double?> since, long end) =>
        since(record.WatchedFromMs!.Value) is { } entry && since(end) is { } last
            ? new LifeAges(atFitting + entry, atFitting + (record.LastSeenGoodMs is { } look ? since(look) : null), atFitting + last)
            : null;

    private static DateTimeOffset? At(long? ms) => ms is { } known ? DateTimeOffset.FromUnixTimeMilliseconds(known) : null;
}
