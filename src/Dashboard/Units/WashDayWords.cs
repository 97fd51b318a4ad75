namespace Washwear.Dashboard.Units;

/// <summary>Kinds of days as a letter, a short word and a name; no kind is told by its colour alone.</summary>
public static class WashDayWords
{
    /// <summary>Kinds in the order of the legend.</summary>
    public static IReadOnlyList<WashDayKind> Kinds { get; } = Enum.GetValues<WashDayKind>();

    /// <summary>The letter of a kind, as in calendars and tables.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>One character, another one for each kind.</returns>
    public static string Letter(WashDayKind kind) => Of(kind).Letter;

    /// <summary>A kind in one short word or two, as a kitchen would say it.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>Lower case, at most ten characters.</returns>
    public static string Brief(WashDayKind kind) => Of(kind).Brief;

    /// <summary>A kind in words.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>A few words with a capital.</returns>
    public static string Name(WashDayKind kind) => Of(kind).Name;

    /// <summary>Whether the day's wash was kept.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>True for a wash that counts, also by hand.</returns>
    public static bool IsKept(WashDayKind kind) => kind is WashDayKind.Counted or WashDayKind.CountedByHand;

    /// <summary>Whether a wash was owed on the day, as far as anybody knows.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>False where the site was closed, the unit out of service, no wash due, or one can still be on time.</returns>
    public static bool IsOwed(WashDayKind kind) =>
        kind is not (WashDayKind.NotDue or WashDayKind.Pending or WashDayKind.Closed or WashDayKind.OutOfService);

    private static (string Letter, string Brief, string Name) Of(WashDayKind kind) => kind switch
    {
        WashDayKind.Counted => ("W", "washed", "A wash that counts"),
        WashDayKind.CountedByHand => ("h", "by hand", "Clean by hand that counts"),
        WashDayKind.LowerGrade => ("g", "too light", "Washed, but at too low a grade"),
        WashDayKind.DetergentLeft => ("d", "soap left", "Washed, but detergent was left"),
        WashDayKind.OutcomeUnknown => ("u", "not sure", "Wash of which nobody knows the end"),
        WashDayKind.StoppedByPerson => ("p", "stopped", "Wash stopped by a person"),
        WashDayKind.StoppedByFault => ("f", "broke off", "Wash stopped by a fault"),
        WashDayKind.Refused => ("r", "refused", "Unit refused to wash"),
        WashDayKind.LockedOut => ("l", "cannot", "Could not wash: locked out"),
        WashDayKind.NobodyStarted => ("–", "no wash", "Nobody started a wash"),
        WashDayKind.NotDue => ("o", "not due", "No wash was due"),
        WashDayKind.Pending => ("…", "to do", "Can still be on time"),
        WashDayKind.Silent => ("?", "not heard", "Nothing heard"),
        WashDayKind.Closed => ("c", "closed", "Site closed"),
        WashDayKind.OutOfService => ("x", "off", "Out of service"),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A kind of day without words."),
    };
}
