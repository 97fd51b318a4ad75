namespace Washwear.Analytics.PartLife;

/// <summary>Lives of one stratum: a part number, batch, model, class of water hardness, operator.</summary>
/// <param name="Name">Name of the group, unique among those compared.</param>
/// <param name="Lives">Its lives, on the same clock as the others.</param>
public sealed record LifeGroup(string Name, Lives Lives)
{
    /// <summary>Refuses groups that cannot be compared.</summary>
    /// <exception cref="ArgumentException">Fewer than two groups, a name twice, or different clocks.</exception>
    internal static void Check(IReadOnlyList<LifeGroup> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count < 2)
        {
            throw new ArgumentException("A comparison needs two or more groups.", nameof(groups));
        }

        if (groups.Select(g => g.Name).Distinct(StringComparer.Ordinal).Count() != groups.Count)
        {
            throw new ArgumentException("Each group needs a name of its own.", nameof(groups));
        }

        if (groups.Select(g => g.Lives.Clock).Distinct(StringComparer.Ordinal).Count() != 1)
        {
            throw new ArgumentException("All groups must be read on the same clock.", nameof(groups));
        }
    }

    /// <summary>All lives of several groups as one collection.</summary>
    /// <param name="groups">Two groups or more.</param>
    /// <exception cref="ArgumentException">Fewer than two groups, a name twice, or different clocks.</exception>
    public static Lives Together(IReadOnlyList<LifeGroup> groups)
    {
        Check(groups);
        Lives[] all = [.. groups.Select(g => g.Lives)];
        var builder = new LivesBuilder(all[0].Clock, all.Sum(p => p.Censored));
        Array.ForEach(all, builder.CopyAll);
        return builder.Build();
    }
}
