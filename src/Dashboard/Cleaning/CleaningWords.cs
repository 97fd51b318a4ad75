using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>States, causes and whose move it is, in words and colours.</summary>
public static class CleaningWords
{
    /// <summary>A state in words.</summary>
    /// <param name="state">The state.</param>
    /// <returns>One to three words with a capital.</returns>
    public static string Name(CleaningState state) => state switch
    {
        CleaningState.Clean => "Clean",
        CleaningState.Due => "Due",
        CleaningState.Overdue => "Overdue",
        CleaningState.LockedOut => "Locked out",
        CleaningState.Silent => "Silent",
        CleaningState.Closed => "Site closed",
        CleaningState.OutOfService => "Out of service",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "A state without words."),
    };

    /// <summary>A cause in words.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>A few words with a capital.</returns>
    public static string Name(Cause cause) => cause switch
    {
        Cause.InOrder => "In order",
        Cause.NobodyStarted => "Nobody started a wash",
        Cause.StoppedByPerson => "Stopped by a person",
        Cause.StoppedByFault => "Stopped by a fault",
        Cause.WashDidNotCount => "Washed, but it did not count",
        Cause.LockoutNoVisitAsked => "Locked out, no visit asked for",
        Cause.LockoutWaitingTechnician => "Locked out, waiting for a technician",
        Cause.LockoutWaitingApproval => "Locked out, waiting for an approval",
        Cause.LockoutWaitingPart => "Locked out, waiting for a part",
        Cause.BeingWorkedOn => "Being worked on",
        Cause.Silent => "Silent",
        Cause.SiteClosed => "Site closed",
        Cause.OutOfService => "Out of service",
        Cause.NoRule => "No rule held",
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "A cause without words."),
    };

    /// <summary>The colour of a cause's bar: by whose move it is, not by how bad it is.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>The colour.</returns>
    public static Ink Colour(Cause cause) => cause switch
    {
        Cause.InOrder => Inks.Kept,
        Cause.NobodyStarted or Cause.StoppedByPerson or Cause.WashDidNotCount => Inks.Kitchen,
        Cause.StoppedByFault or Cause.LockoutNoVisitAsked or Cause.LockoutWaitingTechnician or Cause.LockoutWaitingApproval
            or Cause.LockoutWaitingPart or Cause.BeingWorkedOn => Inks.Service,
        Cause.Silent => Inks.Unheard,
        Cause.SiteClosed or Cause.OutOfService or Cause.NoRule => Inks.NotOwed,
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "A cause without a colour."),
    };

    /// <summary>The group of a cause, in words.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>Whose move it is, or why none is owed.</returns>
    public static string Group(Cause cause) => cause switch
    {
        Cause.InOrder => "In order",
        Cause.NobodyStarted or Cause.StoppedByPerson or Cause.WashDidNotCount => "Kitchen",
        Cause.StoppedByFault or Cause.LockoutNoVisitAsked or Cause.LockoutWaitingTechnician or Cause.LockoutWaitingApproval
            or Cause.LockoutWaitingPart or Cause.BeingWorkedOn => "Service and repair",
        Cause.Silent => "Not heard from",
        Cause.SiteClosed or Cause.OutOfService or Cause.NoRule => "No wash owed",
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "A cause without a group."),
    };

    /// <summary>Causes in the order in which tables and charts show them.</summary>
    public static IReadOnlyList<Cause> Causes { get; } = Enum.GetValues<Cause>();

    /// <summary>States in the order in which a reader needs them: what waits for somebody first.</summary>
    public static IReadOnlyList<CleaningState> States { get; } =
    [
        CleaningState.LockedOut, CleaningState.Overdue, CleaningState.Due, CleaningState.Silent,
        CleaningState.Clean, CleaningState.Closed, CleaningState.OutOfService,
    ];

    /// <summary>What a row of the compliance table can stand for: the code and its words.</summary>
    public static IReadOnlyList<Choice> Groupings { get; } =
    [
        new("site", "Site"), new("operator", "Operator"), new("region", "Region"),
        new("model", "Model"), new("rule", "Rule"), new("unit", "Unit"),
    ];

    /// <summary>Lengths of the compliance window that can be chosen.</summary>
    public static IReadOnlyList<int> WindowsInDays { get; } = [7, 28, 91, 182, 365];

    /// <summary>A window in words, such as 'Last 28 days'.</summary>
    /// <param name="days">Length in days.</param>
    /// <returns>The words.</returns>
    public static string Window(int days) => days == 1 ? "Last day" : "Last " + Text.Count(days) + " days";
}
