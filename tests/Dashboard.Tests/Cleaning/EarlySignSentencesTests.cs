using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Dashboard.Tests.Cleaning;

public sealed class EarlySignSentencesTests
{
    private static readonly Instant At = Instant.FromUtc(2025, 6, 1, 22, 0);

    [Fact]
    public void A_sign_says_what_is_seen_and_what_was_usual() => Assert.Equal(
        "Washes of OV-7 go wrong more often than they used to: 4 of the last 11 were stopped by a fault or left detergent; usual is at most 2 in 100.",
        EarlySignSentences.Of("OV-7", Sign(SignKind.BadWashes, At, 11, 4, 0.22) with { BaselineShare = 0.02 }));

    [Fact]
    public void Durations_are_told_as_a_change_of_the_unit_s_own()
    {
        Assert.Equal(
            "Washes of OV-7 take longer than they used to: 12 % more over the last 9.",
            EarlySignSentences.Of("OV-7", Sign(SignKind.LongerWashes, At, 9, 9 * 84, 9 * 75)));
        Assert.Equal(
            "Washes of OV-7 take less time than they used to: 20 % less over the last 9.",
            EarlySignSentences.Of("OV-7", Sign(SignKind.ShorterWashes, At, 9, 9 * 60, 9 * 75)));
    }

    [Fact]
    public void No_sign_and_too_little_history_are_not_the_same()
    {
        EarlySign quiet = Sign(SignKind.BadWashes, null, 0, 0, 0);
        Assert.Equal("No sign: the sum stands at 50 % of its limit.", EarlySignSentences.Of("OV-7", quiet));
        Assert.StartsWith("Too little history: fewer than 30 washes", EarlySignSentences.Of("OV-7", quiet with { IsCharted = false }), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 0, "No unit has enough washes on record yet to tell whether they are getting worse.")]
    [InlineData(0, 5, "Washes are getting worse at none of 5 units.")]
    [InlineData(1, 5, "Washes are getting worse at 1 of 5 units: look at it before it locks out.")]
    [InlineData(3, 5, "Washes are getting worse at 3 of 5 units: look at them before they lock out.")]
    public void The_fleets_finding(int units, int charted, string sentence) => Assert.Equal(sentence, EarlySignSentences.Fleet(units, charted));

    private static EarlySign Sign(SignKind kind, Instant? called, int washes, double seen, double expected) => new(
        kind, true, 1, 2, called, called, washes, seen, expected, null, 300, 700, 0.5, null, null);
}
