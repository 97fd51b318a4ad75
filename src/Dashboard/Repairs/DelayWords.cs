using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

/// <summary>Words and colours of delays.</summary>
public static class DelayWords
{
    /// <summary>The sorts, in the order in which they are told.</summary>
    public static IReadOnlyList<DelaySort> Sorts { get; } = [DelaySort.Administrative, DelaySort.Logistic, DelaySort.Technical];

    /// <summary>The kinds of a sort.</summary>
    /// <param name="sort">The sort.</param>
    public static IEnumerable<DelayKind> Kinds(DelaySort sort) =>
        Enum.GetValues<DelayKind>().Where(kind => RepairDelays.SortOf(kind) == sort);

    /// <summary>A sort in plain words.</summary>
    /// <param name="sort">The sort.</param>
    public static string Name(DelaySort sort) => sort switch
    {
        DelaySort.Administrative => "Nobody asked or decided",
        DelaySort.Logistic => "Technician or part on the way",
        DelaySort.Technical => "Being worked on",
        _ => throw new ArgumentOutOfRangeException(nameof(sort), sort, "Not a sort of delay."),
    };

    /// <summary>A sort as the standard calls it.</summary>
    /// <param name="sort">The sort.</param>
    public static string Term(DelaySort sort) => sort switch
    {
        DelaySort.Administrative => "administrative delay",
        DelaySort.Logistic => "logistic delay",
        DelaySort.Technical => "technical delay and repair",
        _ => throw new ArgumentOutOfRangeException(nameof(sort), sort, "Not a sort of delay."),
    };

    /// <summary>A kind in plain words.</summary>
    /// <param name="kind">The kind.</param>
    public static string Name(DelayKind kind) => kind switch
    {
        DelayKind.NobodyAsked => "Nobody asked for a visit",
        DelayKind.WaitingApproval => "Waiting for an approval",
        DelayKind.WaitingTechnician => "Waiting for a technician",
        DelayKind.WaitingPart => "Waiting for a part",
        DelayKind.BeingWorkedOn => "Being worked on",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Not a kind of delay."),
    };

    /// <summary>Colour of a sort.</summary>
    /// <param name="sort">The sort.</param>
    public static Ink Colour(DelaySort sort) => sort switch
    {
        DelaySort.Administrative => Inks.Kitchen,
        DelaySort.Logistic => Inks.Service,
        DelaySort.Technical => Inks.Kept,
        _ => throw new ArgumentOutOfRangeException(nameof(sort), sort, "Not a sort of delay."),
    };

    /// <summary>The finding on delays.</summary>
    /// <param name="total">All lockouts.</param>
    /// <param name="days">Length of the window, days.</param>
    public static string Finding(DelayRow total, double days)
    {
        ArgumentNullException.ThrowIfNull(total);
        if (total.Lockouts == 0 || !(total.Hours > 0))
        {
            return $"No unit was locked out of washing in the last {Text.Tick(days)} days.";
        }

        DelayKind worst = Enum.GetValues<DelayKind>().MaxBy(total.Of);
        return $"In {Text.Counted(total.Lockouts, "lockout")} of the last {Text.Tick(days)} days ovens stood {Text.Duration(total.Hours / total.Lockouts)} each on average: "
            + $"{Text.Share(total.Of(DelaySort.Technical) / total.Hours)} of that being worked on, {Text.Share(total.Of(DelaySort.Administrative) / total.Hours)} until "
            + $"somebody asked or decided, {Text.Share(total.Of(DelaySort.Logistic) / total.Hours)} until a technician or part came. "
            + $"Most went to '{Name(worst).ToLowerInvariant()}', {Text.Share(total.Of(worst) / total.Hours)}.";
    }
}
