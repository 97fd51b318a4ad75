using Washwear.Api.Ingest;

namespace Washwear.Api.Projections;

/// <summary>Follows the parts at one position from change to change. The order of arrival does not matter: changes are taken by
/// instant, and at the same instant removals before fittings, then by source and key.</summary>
internal static class PartLives
{
    /// <summary>Doubt of the first life known at a position when only its end is on record.</summary>
    public const string BeforeRecords = "it was fitted before records began: its age is not known";

    /// <summary>Doubt of a later life whose fitting nobody reported.</summary>
    public const string UnknownStart = "nobody reported its fitting: its age is not known";

    /// <summary>Doubt of a life over which another part was fitted.</summary>
    public const string NotRemoved = "another part was fitted over it, and nobody reported its removal or the reason";

    /// <summary>Doubt of a life that was over before part changes were on record.</summary>
    public const string BeforeWatch = "it ended before part changes of this unit were on record";

    /// <summary>Doubt of a life of no length.</summary>
    public const string NoLength = "two parts were fitted at the same instant";

    /// <summary>Doubt of a life that began after the unit had left.</summary>
    public const string AfterRetirement = "it was fitted after the unit had left";

    private const double MillisecondsPerDay = 86_400_000;

    /// <summary>The lives, oldest first.</summary>
    /// <param name="changes">All effective changes of one unit and position, in any order.</param>
    /// <param name="span">When the unit is at its site.</param>
    public static IReadOnlyList<PartLife> Derive(IEnumerable<PartChange> changes, ServiceSpan span)
    {
        var lives = new List<PartLife>();
        PartLife? current = null;
        foreach ((PartChange change, bool isRemoval) in InOrder(changes))
        {
            if (isRemoval)
            {
                lives.Add(Remove(current ?? (lives.Count == 0 ? BeforeAllRecords : WithUnknownStart), change, change.Removed!));
                current = null;
                continue;
            }

            if (current is not null)
            {
                lives.Add(FitOver(current, change));
            }

            current = Fit(change, change.Fitted!, span);
        }

        if (current is not null)
        {
            lives.Add(span.ToMs is { } left ? Retire(current, left) : current);
        }

        return [.. lives.Select(life => WatchedAtAll(life, span))];
    }

    private static PartLife WithUnknownStart { get; } =
        new(null, null, null, null, null, null, null, null, null, null, null, null, null, null, UnknownStart);

    private static PartLife BeforeAllRecords { get; } = WithUnknownStart with { Doubt = BeforeRecords };

    private static IEnumerable<(PartChange Change, bool IsRemoval)> InOrder(IEnumerable<PartChange> changes)
    {
        PartChange[] all = [.. changes];
        return all.Where(change => change.Removed is not null).Select(change => (Change: change, IsRemoval: true))
            .Concat(all.Where(change => change.Fitted is not null).Select(change => (Change: change, IsRemoval: false)))
            .OrderBy(entry => entry.Change.AtMs)
            .ThenByDescending(entry => entry.IsRemoval)
            .ThenBy(entry => entry.Change.Source, StringComparer.Ordinal)
            .ThenBy(entry => entry.Change.Key, StringComparer.Ordinal);
    }

    private static PartLife Fit(PartChange change, NewPart part, ServiceSpan span)
    {
        long watchedFromMs = Math.Max(change.AtMs, span.WatchFromMs);
        // Of a used part of which only one age is told the other is not known; without either it is new.
        bool isNew = part.AgeDays is null && part.AgeWashes is null;
        double? ageDays = part.AgeDays ?? (isNew ? 0 : null);
        return WithUnknownStart with
        {
            FittedMs = change.AtMs,
            WatchedFromMs = watchedFromMs,
            PartNumber = part.PartNumber,
            Batch = part.Batch,
            Supplier = part.Supplier,
            EntryAgeDays = ageDays + ((watchedFromMs - change.AtMs) / MillisecondsPerDay),
            EntryAgeWashes = part.AgeWashes ?? (isNew ? 0 : null),
            FittedSeq = change.Seq,
            Doubt = null,
        };
    }

    private static PartLife Remove(PartLife life, PartChange change, RemovedPart part)
    {
        bool failed = part.Reason is RemovalReason.Failed or RemovalReason.FoundFailed;
        long? seenGoodMs = part.Reason == RemovalReason.FoundFailed ? part.LastSeenGoodAt?.ToUnixTimeMilliseconds() : null;
        return life with
        {
            EndedMs = change.AtMs,
            EndedHow = part.Reason switch
            {
                RemovalReason.Failed => PartEnd.Failed,
                RemovalReason.FoundFailed => PartEnd.FoundFailed,
                RemovalReason.Precaution => PartEnd.Precaution,
                RemovalReason.Upgrade => PartEnd.Upgrade,
                _ => throw new ArgumentOutOfRangeException(nameof(part), part.Reason, "No such reason."),
            },
            // A look at the part before this one says nothing about this one.
            LastSeenGoodMs = seenGoodMs >= life.FittedMs ? seenGoodMs : null,
            FailureMode = failed ? part.FailureMode : null,
            Mechanism = failed ? part.Mechanism : null,
            RemovedSeq = change.Seq,
        };
    }

    private static PartLife FitOver(PartLife life, PartChange change) => life with
    {
        EndedMs = change.AtMs,
        EndedHow = PartEnd.NotReported,
        RemovedSeq = change.Seq,
        Doubt = change.AtMs == life.FittedMs ? NoLength : NotRemoved,
    };

    private static PartLife Retire(PartLife life, long leftMs) => life with
    {
        EndedMs = Math.Max(leftMs, life.FittedMs!.Value),
        EndedHow = PartEnd.UnitRetired,
        Doubt = life.FittedMs >= leftMs ? AfterRetirement : null,
    };

    private static PartLife WatchedAtAll(PartLife life, ServiceSpan span) =>
        life.Doubt is null && life.EndedMs <= span.WatchFromMs && life.FittedMs < span.WatchFromMs ? life with { Doubt = BeforeWatch } : life;
}
