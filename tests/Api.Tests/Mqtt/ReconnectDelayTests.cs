using Washwear.Api.Mqtt;

namespace Washwear.Api.Tests.Mqtt;

public sealed class ReconnectDelayTests
{
    [Theory]
    [InlineData(1, 0, 0.5)]
    [InlineData(1, 1, 1)]
    [InlineData(2, 0, 1)]
    [InlineData(4, 0.5, 6)]
    [InlineData(7, 1, 60)]
    [InlineData(1000, 0, 30)]
    [InlineData(1000, 1, 60)]
    public void Doubles_up_to_a_minute_with_half_of_it_left_to_chance(int failures, double chance, double seconds) =>
        Assert.Equal(seconds, ReconnectDelay.After(failures, chance).TotalSeconds, 9);
}
