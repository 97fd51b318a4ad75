using Washwear.Api.Projections;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Tests.Planning;

/// <summary>Why nothing is planned, told in the reader's language though parts keep their doubts in English.</summary>
public sealed class PlanGapTests
{
    private static readonly ReaderPreferences German = new PreferenceChoice(Culture: "de-AT", Language: "de").For([]);

    [Theory]
    [InlineData(PartLives.BeforeRecords)]
    [InlineData(PartLives.UnknownStart)]
    [InlineData(PartLives.NotRemoved)]
    [InlineData(PartLives.BeforeWatch)]
    [InlineData(PartLives.NoLength)]
    [InlineData(PartLives.AfterRetirement)]
    public void A_doubt_that_is_kept_in_English_is_told_in_German(string doubt)
    {
        var gap = new PlanGap(PlanGapKind.AgeDoubted, Remark: doubt);
        Assert.Equal("its age is not known: " + doubt, PlanSentences.Gap(gap));
        using IDisposable reader = ReaderPreferences.Use(German);
        Assert.Equal(Remarks.Told(doubt), PlanSentences.Gap(gap));
        Assert.NotEqual(doubt, PlanSentences.Gap(gap));
    }

    [Fact]
    public void A_doubt_that_has_no_words_of_its_own_is_told_as_it_is_kept() =>
        Assert.Equal("its age is not known: something new", PlanSentences.Gap(new PlanGap(PlanGapKind.AgeDoubted, Remark: "something new")));
}
