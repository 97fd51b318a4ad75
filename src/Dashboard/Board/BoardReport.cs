using Washwear.Dashboard.Cleaning;

namespace Washwear.Dashboard.Board;

/// <summary>What a screen on a wall shows.</summary>
/// <param name="Status">The ovens that cannot wash, are overdue or silent, worst first, and the counts of all.</param>
/// <param name="Hidden">How many more of them do not fit on the screen.</param>
public sealed record BoardReport(CleaningStatusReport Status, int Hidden);
