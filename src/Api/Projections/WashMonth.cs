namespace Washwear.Api.Projections;

/// <summary>Months by UTC, numbered from January 1970.</summary>
internal static class WashMonth
{
    /// <summary>The month of an instant.</summary>
    /// <param name="ms">Milliseconds UTC.</param>
    public static int Of(long ms)
    {
        DateTimeOffset at = DateTimeOffset.FromUnixTimeMilliseconds(ms);
        return ((at.Year - 1970) * 12) + at.Month - 1;
    }

    /// <summary>First instant of a month.</summary>
    /// <param name="month">Its number.</param>
    public static DateTimeOffset Begin(int month) => DateTimeOffset.UnixEpoch.AddMonths(month);

    /// <summary>First instant of a month, milliseconds UTC.</summary>
    /// <param name="month">Its number.</param>
    public static long BeginMs(int month) => Begin(month).ToUnixTimeMilliseconds();
}
