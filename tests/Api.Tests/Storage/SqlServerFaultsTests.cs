using Washwear.Api.Storage;

namespace Washwear.Api.Tests.Storage;

/// <summary>What the numbers of SQL Server mean (its documentation, "Database engine events and errors"), and how long is waited between tries.</summary>
public sealed class SqlServerFaultsTests
{
    [Theory]
    [InlineData(1205, true, 503)] // deadlock victim
    [InlineData(3960, true, 503)] // snapshot isolation conflict
    [InlineData(10054, true, 503)] // connection reset
    [InlineData(233, true, 503)] // no process at the other end
    [InlineData(40613, true, 503)] // database not currently available
    [InlineData(1222, false, 503)] // lock wait over
    [InlineData(-2, false, 503)] // statement took too long
    [InlineData(1105, false, 507)] // file group full
    [InlineData(9002, false, 507)] // transaction log full
    [InlineData(2627, false, null)] // key there already
    [InlineData(547, false, null)] // refers to nothing
    [InlineData(208, false, null)] // no such table
    public void Numbers_say_whether_to_try_again_and_what_to_answer(int number, bool mayTryAgain, int? status)
    {
        Assert.Equal(mayTryAgain, SqlServerFaults.MayTryAgain([number]));
        Assert.Equal(status, SqlServerFaults.StatusOf([number]));
    }

    [Fact]
    public void Of_several_errors_one_that_passes_is_enough() => Assert.True(SqlServerFaults.MayTryAgain([3621, 1205]));

    [Theory]
    [InlineData(1, 25, 50)]
    [InlineData(2, 50, 100)]
    [InlineData(4, 200, 400)]
    [InlineData(20, 1000, 2000)]
    public void The_wait_doubles_up_to_two_seconds_and_never_is_the_same_for_all(int failed, double leastMs, double mostMs)
    {
        Assert.Equal(leastMs, Backoff.After(failed, 0).TotalMilliseconds, 6);
        Assert.Equal(mostMs, Backoff.After(failed, 1).TotalMilliseconds, 6);
    }
}
