using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

/// <summary>Words and colours of delays.</summary>
public static class DelayWords
{
    /// <summary>How delays are counted.</summary>
    public static string Method => Texts.Method;

    /// <summary>Name of the row of all.</summary>
    public static string AllLockouts => Texts.AllLockouts;

    /// <summary>Name of the row of sites that have no region.</summary>
    public static string NoRegion => Texts.NoRegion;

    private static DelayTexts Texts => DelayTexts.Now;

    /// <summary>The sorts, in the order in which they are told.</summary>
    public static IReadOnlyList<DelaySort> Sorts { get; } = [DelaySort.Administrative, DelaySort.Logistic, DelaySort.Technical];

    /// <summary>The kinds of a sort.</summary>
    /// <param name="sort">The sort.</param>
    public static IEnumerable<DelayKind> Kinds(DelaySort sort) =>
        Enum.GetValues<DelayKind>().Where(kind => RepairDelays.SortOf(kind) == sort);

    /// <summary>A sort in plain words.</summary>
    /// <param name="sort">The sort.</param>
    public static string Name(DelaySort sort) => Texts.Sorts[sort];

    /// <summary>A sort in plain words, within a sentence.</summary>
    /// <param name="sort">The sort.</param>
    public static string NameInside(DelaySort sort) => Texts.SortsInside[sort];

    /// <summary>A sort as the standard calls it.</summary>
    /// <param name="sort">The sort.</param>
    public static string Term(DelaySort sort) => Texts.Terms[sort];

    /// <summary>A kind in plain words.</summary>
    /// <param name="kind">The kind.</param>
    public static string Name(DelayKind kind) => Texts.Kinds[kind];

    /// <summary>Colour of a sort.</summary>
    /// <param name="sort">The sort.</param>
    public static Ink Colour(DelaySort sort) => sort switch
    {
        DelaySort.Administrative => Inks.Kitchen,
        DelaySort.Logistic => Inks.Service,
        DelaySort.Technical => Inks.Kept,
        _ => throw new ArgumentOutOfRangeException(nameof(sort)),
    };

    /// <summary>What a row stands for, in words.</summary>
    /// <param name="by">operator, site, model, region or code.</param>
    public static string Group(string by) => Texts.Groups.TryGetValue(by, out string? words) ? words : Text.Words(by);

    /// <summary>What a row stands for, within a sentence.</summary>
    /// <param name="by">operator, site, model, region or code.</param>
    public static string GroupInside(string by) => Texts.GroupsInside.TryGetValue(by, out string? words) ? words : by;

    /// <summary>The finding on delays.</summary>
    /// <param name="total">All lockouts.</param>
    /// <param name="days">Length of the window, days.</param>
    public static string Finding(DelayRow total, double days)
    {
        ArgumentNullException.ThrowIfNull(total);
        if (total.Lockouts == 0 || !(total.Hours > 0))
        {
            return Fill.In(Texts.None, ("days", Text.Tick(days)));
        }

        DelayKind worst = Enum.GetValues<DelayKind>().MaxBy(total.Of);
        string ShareOf(double hours) => Text.Share(hours / total.Hours);
        return Texts.Finding.For(
            total.Lockouts,
            ("days", Text.Tick(days)),
            ("time", Text.Duration(total.Hours / total.Lockouts)),
            ("technical", ShareOf(total.Of(DelaySort.Technical))),
            ("administrative", ShareOf(total.Of(DelaySort.Administrative))),
            ("logistic", ShareOf(total.Of(DelaySort.Logistic))),
            ("worst", Texts.KindsInside[worst]),
            ("share", ShareOf(total.Of(worst))));
    }
}
