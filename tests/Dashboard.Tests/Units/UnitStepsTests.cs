using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests.Units;

public sealed class UnitStepsTests
{
    [Theory]
    [InlineData(CleaningState.LockedOut, Cause.LockoutNoVisitAsked, "Ask for a visit", "/units/OV-1/ask")]
    [InlineData(CleaningState.LockedOut, Cause.LockoutWaitingApproval, "Decide on the repair", "/approvals?unit=OV-1")]
    [InlineData(CleaningState.Overdue, Cause.NobodyStarted, "Wash it now", "/sites/S1")]
    [InlineData(CleaningState.Overdue, Cause.BeingWorkedOn, "Close out the visit", "/visits/new?unit=OV-1")]
    [InlineData(CleaningState.Silent, Cause.Silent, "Check plug and network", "/sites/S1")]
    [InlineData(CleaningState.Clean, Cause.InOrder, "Open the visit sheet", "/units/OV-1/visit-sheet")]
    public void The_next_step_leads_to_the_page_that_takes_it(CleaningState state, Cause cause, string words, string url)
    {
        (string Words, string Url, string Why) step = UnitSteps.Next("OV-1", "S1", [Samples.Unit(1, state, cause, 5, "service", "Words.")]);
        Assert.Equal((words, url), (step.Words, step.Url));
        Assert.NotEmpty(step.Why);
    }

    [Fact]
    public void The_most_pressing_rule_decides()
    {
        UnitCleaning[] rows =
        [
            Samples.Unit(1, CleaningState.Clean, Cause.InOrder, 0, "nobody", "In order."), Samples.Unit(1, CleaningState.LockedOut, Cause.LockoutWaitingPart, 9, "supplier", "Waits."),
        ];
        Assert.Equal("See what to bring", UnitSteps.Next("OV-1", "S1", rows).Words);
    }
}
