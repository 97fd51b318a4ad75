using Washwear.Api.Messages;

namespace Washwear.Api.Tests.Messages;

public sealed class TopicPatternTests
{
    [Theory]
    [InlineData("kitchens/{site}/{unit}/wash", "kitchens/a/b/wash", "site=a,unit=b")]
    [InlineData("kitchens/{site}/{unit}/wash", "kitchens/a/b/hours", null)]
    [InlineData("kitchens/{site}/{unit}/wash", "kitchens/a/b/wash/now", null)]
    [InlineData("kitchens/+/{unit}", "kitchens//b", "unit=b")]
    [InlineData("{unit}/#", "b", "unit=b")]
    [InlineData("{unit}/#", "b/c/d", "unit=b")]
    [InlineData("#", "anything/at/all", "")]
    [InlineData("a/b", "a/B", null)]
    public void Matches_as_a_broker_does_and_gives_the_named_levels(string pattern, string topic, string? levels)
    {
        IReadOnlyDictionary<string, string>? found = TopicPattern.Read(pattern, out string? problem)!.Match(topic);

        Assert.Null(problem);
        Assert.Equal(levels, found is null ? null : string.Join(',', found.Select(pair => pair.Key + "=" + pair.Value)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("$SYS/broker")]
    [InlineData("a#")]
    [InlineData("a+/b")]
    [InlineData("{a}b")]
    [InlineData("#/a")]
    public void What_is_no_topic_filter_is_said_to_be_none(string pattern)
    {
        Assert.Null(TopicPattern.Read(pattern, out string? problem));
        Assert.NotEmpty(problem!);
    }
}
