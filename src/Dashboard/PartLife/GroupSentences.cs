using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>What a comparison says of a group of parts.</summary>
public enum GroupVerdict
{
    /// <summary>The group that the others are compared with.</summary>
    ComparedWith,

    /// <summary>Too few failures to tell.</summary>
    TooFew,

    /// <summary>Its parts fail earlier.</summary>
    FailsEarlier,

    /// <summary>Its parts last longer.</summary>
    LastsLonger,

    /// <summary>No sign of a difference.</summary>
    NoDifference,
}

/// <summary>What groups, clocks and failure modes say, in words.</summary>
public static class GroupSentences
{
    /// <summary>Said where there is one group only.</summary>
    public static string OneGroup => Texts.OneGroup;

    /// <summary>What failure modes are worked out by.</summary>
    public static string ModesMethod => Texts.Modes.Method;

    /// <summary>What the curve of one mode supposes.</summary>
    public static string Independence => Texts.Modes.Independence;

    /// <summary>Why failures that name no mode have no curve.</summary>
    public static string NoCurve => Texts.Modes.NoCurve;

    /// <summary>Said where failures do not tell two modes apart.</summary>
    public static string NoModes => Texts.Modes.NoneToldApart;

    /// <summary>The method where nothing was worked out.</summary>
    public static string NoMethod => Texts.Modes.NoMethod;

    private static PartLifeGroupsTexts Texts => PartLifeGroupsTexts.Now;

    /// <summary>What a comparison says of a group.</summary>
    /// <param name="verdict">The verdict.</param>
    /// <returns>A few words.</returns>
    public static string Name(GroupVerdict verdict) => Texts.Verdicts[verdict];

    /// <summary>Which groups fail earlier.</summary>
    /// <param name="reference">Name of the group that the others are compared with.</param>
    /// <param name="earlier">Those that fail earlier.</param>
    /// <returns>One sentence.</returns>
    public static string Finding(string reference, IReadOnlyCollection<GroupRow> earlier)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        (string Name, string Value) others = ("reference", PartLifeWords.Group(reference));
        return earlier.Count == 0
            ? Fill.In(Texts.NoneEarlier, others)
            : string.Join("; ", earlier.Select(row =>
                Texts.Earlier.For(row.Failures, ("group", PartLifeWords.Group(row.Group)), ("ratio", Text.Estimated(row.ScaleRatio)), others))) + ".";
    }

    /// <summary>Which clock explains the lives best.</summary>
    /// <param name="best">The clock.</param>
    /// <param name="decided">Whether the others explain them clearly less well.</param>
    /// <returns>One sentence.</returns>
    public static string Clocks(string best, bool decided) =>
        Fill.In(decided ? Texts.Clocks.Decided : Texts.Clocks.Undecided, ("clock", Text.ClockUnitAfter(best)));

    /// <summary>The mode that ends most parts.</summary>
    /// <param name="first">It.</param>
    /// <param name="failures">Failures of all modes.</param>
    /// <returns>One sentence.</returns>
    public static string EndsMost(ModeRow first, int failures)
    {
        ArgumentNullException.ThrowIfNull(first);
        (string Name, string Value)[] values = [("mode", first.Mode is { } mode ? Text.Words(mode) : Texts.Modes.Unnamed), ("all", Text.Count(failures))];
        return first.Weibull is { } weibull
            ? Texts.Modes.EndsMostAgeing.For(first.Failures, [.. values, ("ageing", weibull.Ageing)])
            : Texts.Modes.EndsMost.For(first.Failures, values);
    }
}
