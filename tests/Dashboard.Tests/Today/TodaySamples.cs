using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Tests.Repairs;
using Washwear.Dashboard.Today;

namespace Washwear.Dashboard.Tests.Today;

/// <summary>Lines of what needs whom, for the tests of pages.</summary>
internal static class TodaySamples
{
    public static TodayReport Full { get; } = Samples.Today with
    {
        Lines =
        [
            .. UnitLines.Of([.. Samples.Today.LockedOut, .. Samples.Today.Overdue, .. Samples.Today.Silent], Samples.AsOf)
                .Concat(RepairLines.Unproven(RepairSamples.Unproven.Rows))
                .Concat(ServiceLines.Failing([new FailureDecision("The wash pump fails more often.", ["Twelve failures, six expected."], "Look at its batch", "/part-life", "/failures/records")]))
                .Append(ServiceLines.Refused(Samples.Today.RefusedRows)!)
                .Append(PlannerLines.Wearing(Samples.Today.WearingOut)!)
                .OrderBy(line => line.Role),
        ],
    };

    public static TodayReport HostileLines { get; } = Hostile.Today with
    {
        Lines = [new TodayLine(TodayRole.Planner, Hostile.Name, Hostile.LongName, DateTimeOffset.MinValue, DateOnly.MaxValue, int.MaxValue, [new TodayItem(Hostile.Name, Hostile.Name, "/units/x")], Hostile.Name, "/units/x")],
    };

    public static TodayReport Of(TodayRole role) => Full with { For = role, Lines = [.. Full.Lines.Where(line => line.Role == role)], Unproven = RepairSamples.Unproven };

    public static UnitCleaning Oven(int i, CleaningState state, Cause cause, double hours, string move) => Samples.Unit(i, state, cause, hours, move, "A sentence.");
}
