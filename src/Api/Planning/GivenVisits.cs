using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Washwear.Api.Planning;

/// <summary>A visit of the plan as the calendar tells it.</summary>
/// <param name="SiteId">Number of its site.</param>
/// <param name="Day">Its day, yyyy-MM-dd.</param>
/// <param name="Jobs">Keys of its jobs.</param>
/// <param name="Summary">Its title.</param>
/// <param name="Details">Its text.</param>
internal sealed record TellableVisit(int SiteId, string Day, IReadOnlyList<string> Jobs, string Summary, string Details);

/// <summary>
/// Finds in a new plan the visits that were given out before: a visit is the same one if it shares jobs with it, whatever its day. It keeps its
/// uid, and its sequence grows with each change (RFC 5545, 3.8.7.4); what the plan drops is cancelled.
/// </summary>
internal static class GivenVisits
{
    private const int UidBytes = 12;

    /// <summary>What to give out now.</summary>
    /// <param name="given">What was given out, from today on.</param>
    /// <param name="planned">The plan.</param>
    /// <param name="nowMs">Now, ms UTC.</param>
    /// <param name="scope">Whose plan it is; empty: the whole fleet's.</param>
    /// <returns>Every visit to tell, and those among them that are new or changed.</returns>
    public static (IReadOnlyList<GivenVisitRow> All, IReadOnlyList<GivenVisitRow> Changed) Reconcile(
        IReadOnlyList<GivenVisitRow> given, IReadOnlyList<TellableVisit> planned, long nowMs, string scope = "")
    {
        Dictionary<TellableVisit, GivenVisitRow> known = Match(given, planned);
        HashSet<string> kept = [.. known.Values.Select(row => row.Uid)];
        var all = new List<GivenVisitRow>();
        var changed = new List<GivenVisitRow>();
        void Tell(GivenVisitRow row, bool isChanged)
        {
            all.Add(row);
            if (isChanged)
            {
                changed.Add(row);
            }
        }

        foreach (TellableVisit visit in planned)
        {
            GivenVisitRow? before = known.GetValueOrDefault(visit);
            bool same = before is { Cancelled: false } && before.Day == visit.Day && before.Summary == visit.Summary && before.Details == visit.Details;
            Tell(same ? before! : Row(visit, before, nowMs, scope), !same);
        }

        foreach (GivenVisitRow dropped in given.Where(row => !kept.Contains(row.Uid)))
        {
            Tell(
                dropped.Cancelled ? dropped : dropped with { Cancelled = true, Sequence = dropped.Sequence + 1, ChangedMs = nowMs },
                !dropped.Cancelled);
        }

        return ([.. all.OrderBy(row => row.Day, StringComparer.Ordinal).ThenBy(row => row.Uid, StringComparer.Ordinal)], changed);
    }

    // Most jobs in common first, then the smallest move; each visit is matched once.
    private static Dictionary<TellableVisit, GivenVisitRow> Match(IReadOnlyList<GivenVisitRow> given, IReadOnlyList<TellableVisit> planned)
    {
        var known = new Dictionary<TellableVisit, GivenVisitRow>(ReferenceEqualityComparer.Instance);
        ILookup<int, (GivenVisitRow Row, HashSet<string> Jobs)> bySite = given.ToLookup(
            row => row.SiteId, row => (row, new HashSet<string>(JsonSerializer.Deserialize<string[]>(row.Jobs) ?? [], StringComparer.Ordinal)));
        var pairs = planned
            .SelectMany(visit => bySite[visit.SiteId].Select(old => (Visit: visit, Old: old.Row, Common: visit.Jobs.Count(old.Jobs.Contains))))
            .Where(pair => pair.Common > 0)
            .OrderByDescending(pair => pair.Common).ThenBy(pair => pair.Old.Cancelled).ThenBy(pair => DaysApart(pair.Visit.Day, pair.Old.Day))
            .ThenBy(pair => pair.Old.Uid, StringComparer.Ordinal);
        HashSet<string> taken = [];
        foreach ((TellableVisit visit, GivenVisitRow old, _) in pairs)
        {
            if (!known.ContainsKey(visit) && taken.Add(old.Uid))
            {
                known[visit] = old;
            }
        }

        return known;
    }

    private static GivenVisitRow Row(TellableVisit visit, GivenVisitRow? before, long nowMs, string scope)
    {
        string jobs = JsonSerializer.Serialize(visit.Jobs);
        return new GivenVisitRow
        {
            Uid = before?.Uid ?? Uid(visit, jobs, nowMs, scope),
            Scope = scope,
            SiteId = visit.SiteId,
            Day = visit.Day,
            Jobs = jobs,
            Summary = visit.Summary,
            Details = visit.Details,
            Sequence = before is null ? 0 : before.Sequence + 1,
            ChangedMs = nowMs,
        };
    }

    private static string Uid(TellableVisit visit, string jobs, long nowMs, string scope)
    {
        byte[] hash = SHA256.HashData(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{scope}{visit.SiteId} {visit.Day} {nowMs} {jobs}")));
        return "visit-" + Convert.ToHexStringLower(hash.AsSpan(0, UidBytes)) + "@washwear";
    }

    private static int DaysApart(string one, string other) => Math.Abs(
        DateOnly.ParseExact(one, "yyyy-MM-dd", CultureInfo.InvariantCulture).DayNumber
        - DateOnly.ParseExact(other, "yyyy-MM-dd", CultureInfo.InvariantCulture).DayNumber);
}
