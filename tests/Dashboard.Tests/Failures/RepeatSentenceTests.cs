using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Failures;

namespace Washwear.Dashboard.Tests.Failures;

/// <summary>Words of a repeat tell the same time as the column beside them.</summary>
public sealed class RepeatSentenceTests
{
    [Theory]
    [InlineData(RepeatKind.WrongCauseFound, 1.65 / 24, "Fault E21 came back after 1 h 39 min, and the cause was then found elsewhere than at the wash pump.")]
    [InlineData(RepeatKind.RepairDidNotHold, 21.6, "The new wash pump failed after 21 days 14 h; a failure within 90 days is early.")]
    public void A_time_is_not_rounded_to_whole_days(RepeatKind kind, double days, string sentence)
    {
        var repeat = new Repeat(
            0, 1, true, true, days, kind, [], null, 90, null, null, new RepeatPlaceTest(RepeatOf.Position, 0, 0, 2, 1, null, null, null, false));

        Assert.Equal(sentence, RepeatSentences.Evidence(repeat, "Wash pump", null, "E21", new RepeatOptions()));
    }
}
