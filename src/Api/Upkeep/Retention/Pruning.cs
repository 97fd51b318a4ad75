using System.Globalization;

namespace Washwear.Api.Upkeep.Retention;

/// <summary>How much of a kind is, or was, older than it is kept for.</summary>
/// <param name="Name">The kind.</param>
/// <param name="Days">For how many days it is kept; 0: for ever.</param>
/// <param name="Rows">How many are older, or were deleted.</param>
internal sealed record PrunedKind(string Name, int Days, long Rows);

/// <summary>Lets go of what is kept only for a time.</summary>
/// <param name="queries">Counts and deletes.</param>
/// <param name="settings">For how long.</param>
/// <param name="clock">The clock.</param>
internal sealed class Pruning(RetentionQueries queries, Settings settings, TimeProvider clock)
{
    // Between two batches whoever waits to write has its turn.
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(20);

    /// <summary>Counts what would go.</summary>
    /// <param name="cancellationToken">Stops counting.</param>
    public async Task<IReadOnlyList<PrunedKind>> CountAsync(CancellationToken cancellationToken)
    {
        var kinds = new List<PrunedKind>();
        foreach (RetentionRule rule in RetentionQueries.Rules)
        {
            int days = settings.KeepDays(rule.Setting);
            kinds.Add(new PrunedKind(rule.Name, days, days == 0 ? 0 : await queries.CountAsync(rule, Before(days), cancellationToken)));
        }

        return kinds;
    }

    /// <summary>Deletes it, a batch at a time.</summary>
    /// <param name="cancellationToken">Stops between batches.</param>
    public async Task<IReadOnlyList<PrunedKind>> RunAsync(CancellationToken cancellationToken)
    {
        var kinds = new List<PrunedKind>();
        foreach (RetentionRule rule in RetentionQueries.Rules)
        {
            int days = settings.KeepDays(rule.Setting);
            kinds.Add(new PrunedKind(rule.Name, days, days == 0 ? 0 : await DeleteAsync(rule, Before(days), cancellationToken)));
        }

        return kinds;
    }

    /// <summary>What went, in a sentence.</summary>
    /// <param name="kinds">What went.</param>
    public static string Sentence(IReadOnlyList<PrunedKind> kinds)
    {
        string[] gone = [.. kinds.Where(kind => kind.Rows > 0).Select(kind => string.Create(CultureInfo.InvariantCulture, $"{kind.Rows:N0} {kind.Name}"))];
        return gone.Length == 0 ? "Nothing is older than it is kept for." : $"Let go of {string.Join(", ", gone)}.";
    }

    private async Task<long> DeleteAsync(RetentionRule rule, DateTimeOffset before, CancellationToken cancellationToken)
    {
        long deleted = 0;
        while (await queries.DeleteAsync(rule, before, cancellationToken) is > 0 and var batch)
        {
            deleted += batch;
            await Task.Delay(Pause, cancellationToken);
        }

        return deleted;
    }

    private DateTimeOffset Before(int days) => clock.GetUtcNow().AddDays(-days);
}
