using Washwear.Dashboard.Audit;

namespace Washwear.Dashboard.Tests.Audit;

/// <summary>What the audit says in plain words.</summary>
public sealed class AuditWordsTests
{
    [Theory]
    [InlineData("approval.decide", "Decided an approval")]
    [InlineData("stock_point.put", "Stock point: put")]
    public void An_action_is_told_in_words(string action, string words) => Assert.Equal(words, AuditWords.What(action));

    [Theory]
    [InlineData(200L, true, "done")]
    [InlineData(0L, true, "done")]
    [InlineData(403L, false, "refused: not allowed")]
    [InlineData(1L, false, "failed")]
    [InlineData(503L, false, "failed")]
    public void An_outcome_is_told_in_words(long status, bool done, string words)
    {
        AuditRow row = AuditSamples.Rows[0] with { Status = status };

        Assert.Equal(done, AuditWords.IsDone(row));
        Assert.Equal(words, AuditWords.Outcome(row));
    }

    [Fact]
    public void A_change_whose_answer_was_not_noted_says_so() =>
        Assert.Contains("the answer is not known", AuditWords.Outcome(AuditSamples.Rows[0] with { Status = null }), StringComparison.Ordinal);

    [Fact]
    public void The_sentence_counts_what_was_refused()
    {
        Assert.StartsWith("The latest 6 entries since ", AuditWords.Sentence(AuditFilter.All, AuditSamples.Rows, false, "Etc/UTC"), StringComparison.Ordinal);
        Assert.EndsWith(": 2 were refused or failed.", AuditWords.Sentence(AuditFilter.All, AuditSamples.Rows, true, "Etc/UTC"), StringComparison.Ordinal);
        Assert.Equal("Nothing was changed yet.", AuditWords.Sentence(AuditFilter.All, [], true, "Etc/UTC"));
        Assert.Equal("No entry matches.", AuditWords.Sentence(AuditFilter.All with { Caller = "x" }, [], true, "Etc/UTC"));
    }
}
