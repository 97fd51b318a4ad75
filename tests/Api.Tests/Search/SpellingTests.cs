using Washwear.Api.Search;

namespace Washwear.Api.Tests.Search;

/// <summary>How texts are compared.</summary>
public sealed class SpellingTests
{
    [Theory]
    [InlineData("Straße", "strasse")]
    [InlineData("ÅLESUND", "alesund")]
    [InlineData("Łódź", "lodz")]
    [InlineData("  Two\t\n words ", "two words")]
    [InlineData("ﬁlter", "filter")]
    [InlineData("E\u0301", "e")]
    [InlineData("\u200bzero", "zero")]
    [InlineData("", "")]
    public void A_text_is_folded_to_small_plain_letters(string text, string folded) => Assert.Equal(folded, Spelling.Fold(text));

    // By hand; 'ca' and 'abc' are 3 apart by this distance, 2 by the unrestricted one (Boytsov 2011, ACM JEA 16, section 2.2).
    [Theory]
    [InlineData("kitten", "sitting", 3)]
    [InlineData("oven", "ovne", 1)]
    [InlineData("ca", "abc", 3)]
    [InlineData("", "ab", 2)]
    [InlineData("same", "same", 0)]
    public void Edits_are_counted_by_optimal_string_alignment(string one, string other, int edits)
    {
        Assert.Equal(edits, Spelling.Edits(one, other, 5));
        Assert.Equal(edits, Spelling.Edits(other, one, 5));
        Assert.Equal(Math.Min(edits, 2), Spelling.Edits(one, other, 1));
    }
}
