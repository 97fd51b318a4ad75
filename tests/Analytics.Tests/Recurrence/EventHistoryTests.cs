using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

public sealed class EventHistoryTests
{
    [Theory]
    [InlineData(-1, 5, new double[0])]
    [InlineData(double.NaN, 5, new double[0])]
    [InlineData(0, double.PositiveInfinity, new double[0])]
    [InlineData(0, double.NaN, new double[0])]
    [InlineData(3, 3, new double[0])]
    [InlineData(0, 5, new[] { 0.0 })]
    [InlineData(2, 5, new[] { 2.0 })]
    [InlineData(0, 5, new[] { 5.1 })]
    [InlineData(0, 5, new[] { 3.0, 2.0 })]
    [InlineData(0, 5, new[] { double.NaN })]
    public void What_cannot_be_is_refused(double from, double to, double[] ages) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new EventHistory(from, to, ages));

    [Fact]
    public void Ties_and_an_event_at_the_end_are_taken_and_the_list_is_copied()
    {
        double[] ages = [3, 3, 5];
        var history = new EventHistory(2, 5, ages);
        ages[0] = 99;
        Assert.Equal([3, 3, 5], history.Ages);
        Assert.Equal(3, history.Watched);
    }
}
