using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Storage;

namespace Washwear.Api.Registry;

/// <summary>From when on a changed rule holds.</summary>
/// <param name="Now">When the change was made.</param>
/// <param name="From">First trading day on which it holds; null: the first that has begun nowhere.</param>
/// <param name="Always">Whether it replaces the past too.</param>
public sealed record RuleChange(DateTimeOffset Now, DateOnly? From = null, bool Always = false)
{
    /// <summary>First trading day on which the change holds.</summary>
    /// <param name="after">The rule after the change; its own validity may begin later.</param>
    public DateOnly FirstDay(RuleResource after)
    {
        DateOnly day = From ?? RuleVersions.FirstDayToCome(Now);
        return after.ValidFrom is { } begins && begins > day ? begins : day;
    }
}

/// <summary>Keeps what a rule said before it is changed.</summary>
internal static class RuleChanges
{
    /// <summary>Keeps the content that is about to be replaced, if it judged days that the new one must not touch.</summary>
    public static async Task KeepAsync(
        WriteSession session, StoredBody stored, RuleResource after, RuleChange change, CancellationToken cancellationToken)
    {
        RuleResource before = JsonSerializer.Deserialize<RuleResource>(stored.Body, Json.Options)!;
        if (RuleVersions.JudgeAlike(before, after) && change is { Always: false, From: null })
        {
            return;
        }

        RuleVersionEntry[] live =
            [.. (await RuleVersionQueries.OfRuleAsync(session, stored.Id, cancellationToken)).Where(entry => entry.Resource.WithdrawnAt is null)];
        DateOnly? first = change.Always ? null : change.FirstDay(after);
        RuleVersionEntry? cut = null;
        foreach (RuleVersionEntry version in live.Where(entry => first is null || entry.Resource.Until >= first).Reverse())
        {
            await RuleVersionQueries.WithdrawAsync(session, version.Id, change.Now, cancellationToken);
            cut = version;
        }

        // What held on the day before the change: the earliest of the versions cut, else what stands now.
        RuleResource last = cut?.Resource.Rule ?? before;
        if (first is { } day && !(last.ValidFrom >= day))
        {
            await RuleVersionQueries.InsertAsync(
                session, stored.Id, new RuleVersionResource(last, day.AddDays(-1), change.Now), cancellationToken);
        }

        // What the change withdraws altogether stays on record.
        if ((first is null || cut is not null) && !RuleVersions.JudgeAlike(before, after))
        {
            DateOnly today = RuleVersions.FirstDayToCome(change.Now).AddDays(-1);
            await RuleVersionQueries.InsertAsync(
                session, stored.Id, new RuleVersionResource(before, today, change.Now, change.Now), cancellationToken);
        }
    }

    /// <summary>Adds those versions of a document that are not on record yet.</summary>
    public static async Task<int> AddAsync(
        WriteSession session, int ruleId, IEnumerable<RuleVersionResource> versions, CancellationToken cancellationToken)
    {
        HashSet<string> known = [.. (await RuleVersionQueries.OfRuleAsync(session, ruleId, cancellationToken)).Select(entry => Text(entry.Resource))];
        int added = 0;
        foreach (RuleVersionResource version in versions.Where(version => known.Add(Text(version))))
        {
            await RuleVersionQueries.InsertAsync(session, ruleId, version, cancellationToken);
            added++;
        }

        return added;
    }

    private static string Text(RuleVersionResource version) => JsonSerializer.Serialize(version, Json.Options);
}
