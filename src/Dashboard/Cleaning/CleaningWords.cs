using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>States, causes and whose move it is, in words and colours.</summary>
public static class CleaningWords
{
    /// <summary>A state in words.</summary>
    /// <param name="state">The state.</param>
    /// <returns>One to three words with a capital.</returns>
    public static string Name(CleaningState state) => CleaningTexts.Now.States[state];

    /// <summary>A state within a sentence or after a number, such as 'locked out'.</summary>
    /// <param name="state">The state.</param>
    /// <returns>One to three words, with a capital only where the language asks for it.</returns>
    public static string InSentence(CleaningState state) => CleaningTexts.Now.StatesInSentence[state];

    /// <summary>A cause in words.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>A few words with a capital.</returns>
    public static string Name(Cause cause) => CleaningTexts.Now.Causes[cause];

    /// <summary>A cause within a sentence, such as 'nobody started a wash'.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>A few words, with a capital only where the language asks for it.</returns>
    public static string InSentence(Cause cause) => CleaningTexts.Now.CausesInSentence[cause];

    /// <summary>Whose move it is, in a word.</summary>
    /// <param name="mover">Whose move it is.</param>
    /// <returns>The word with a capital.</returns>
    public static string Name(Mover mover) => CleaningTexts.Now.Movers[mover];

    /// <summary>Whose move it is, within a sentence.</summary>
    /// <param name="mover">Whose move it is.</param>
    /// <returns>The word, with a capital only where the language asks for it.</returns>
    public static string InSentence(Mover mover) => CleaningTexts.Now.MoversInSentence[mover];

    /// <summary>Whose move it is, by the code of a report.</summary>
    /// <param name="code">Code of a <see cref="Mover"/>, such as kitchen.</param>
    /// <returns>The word with a capital; another code as it is.</returns>
    public static string MoverOf(string code) => Enum.TryParse(code, ignoreCase: true, out Mover mover) && Enum.IsDefined(mover) ? Name(mover) : code;

    /// <summary>One number out of another, such as '3 of 8'.</summary>
    /// <param name="part">The part.</param>
    /// <param name="whole">The whole.</param>
    /// <returns>Both in words.</returns>
    public static string OfWhole(int part, int whole) =>
        Fill.In(CleaningTexts.Now.PartOfWhole, ("part", Text.Count(part)), ("whole", Text.Count(whole)));

    /// <summary>Hours, such as '12.5 h'.</summary>
    /// <param name="hours">The hours.</param>
    public static string Hours(double hours) => Fill.In(ShellTexts.Now.Hours, ("count", Text.Number(hours)));

    /// <summary>A cause with its hours, such as 'Nobody started a wash, 12.5 h'.</summary>
    /// <param name="cause">The cause.</param>
    /// <param name="hours">Its hours.</param>
    public static string WithHours(Cause cause, double hours) => Name(cause) + ", " + Hours(hours);

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
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, null),
    };

    /// <summary>The group of a cause, in words.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>Whose move it is, or why none is owed.</returns>
    public static string Group(Cause cause)
    {
        CauseGroupTexts groups = CleaningTexts.Now.Groups;
        return cause switch
        {
            Cause.InOrder => groups.InOrder,
            Cause.NobodyStarted or Cause.StoppedByPerson or Cause.WashDidNotCount => groups.Kitchen,
            Cause.StoppedByFault or Cause.LockoutNoVisitAsked or Cause.LockoutWaitingTechnician or Cause.LockoutWaitingApproval
                or Cause.LockoutWaitingPart or Cause.BeingWorkedOn => groups.Service,
            Cause.Silent => groups.Unheard,
            Cause.SiteClosed or Cause.OutOfService or Cause.NoRule => groups.NotOwed,
            _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, null),
        };
    }

    /// <summary>Causes in the order in which tables and charts show them.</summary>
    public static IReadOnlyList<Cause> Causes { get; } = Enum.GetValues<Cause>();

    /// <summary>States in the order in which a reader needs them: what waits for somebody first.</summary>
    public static IReadOnlyList<CleaningState> States { get; } =
    [
        CleaningState.LockedOut, CleaningState.Overdue, CleaningState.Due, CleaningState.Silent,
        CleaningState.Clean, CleaningState.Closed, CleaningState.OutOfService,
    ];

    /// <summary>What a row of the compliance table can stand for: the code and its words.</summary>
    public static IReadOnlyList<Choice> Groupings => [.. ComplianceTexts.Now.Groupings.Select(grouping => new Choice(grouping.Key, grouping.Value))];

    /// <summary>What a row of the compliance table stands for.</summary>
    /// <param name="by">Code of the grouping, such as site.</param>
    /// <returns>One word with a capital.</returns>
    public static string Grouping(string by) => ComplianceTexts.Now.Groupings.GetValueOrDefault(by, by);

    /// <summary>What a row of the compliance table stands for, within a sentence.</summary>
    /// <param name="by">Code of the grouping, such as site.</param>
    /// <returns>One word, with a capital only where the language asks for it.</returns>
    public static string GroupingInSentence(string by) => ComplianceTexts.Now.GroupingsInSentence.GetValueOrDefault(by, by);

    /// <summary>Lengths of the compliance window that can be chosen.</summary>
    public static IReadOnlyList<int> WindowsInDays { get; } = [7, 28, 91, 182, 365];

    /// <summary>A window in words, such as 'Last 28 days'.</summary>
    /// <param name="days">Length in days.</param>
    /// <returns>The words.</returns>
    public static string Window(int days) => CleaningTexts.Now.Window.For(days);
}
