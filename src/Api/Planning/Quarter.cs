using System.Globalization;

namespace Washwear.Api.Planning;

/// <summary>A calendar quarter by UTC.</summary>
/// <param name="Year">The year.</param>
/// <param name="Number">1 to 4.</param>
internal readonly record struct Quarter(int Year, int Number)
{
    private const int MonthsPerQuarter = 3;

    /// <summary>First instant.</summary>
    public DateTimeOffset Begin => new(Year, ((Number - 1) * MonthsPerQuarter) + 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>First instant of the next one.</summary>
    public DateTimeOffset End => Begin.AddMonths(MonthsPerQuarter);

    /// <summary>The quarter before.</summary>
    public Quarter Before => Of(Begin.AddDays(-1));

    /// <summary>The quarter of an instant.</summary>
    /// <param name="at">The instant.</param>
    public static Quarter Of(DateTimeOffset at) => new(at.UtcDateTime.Year, ((at.UtcDateTime.Month - 1) / MonthsPerQuarter) + 1);

    /// <summary>The quarter of a name.</summary>
    /// <param name="name">Such as 2026-Q1.</param>
    public static Quarter Parse(string name) => new(
        int.Parse(name.AsSpan(0, 4), CultureInfo.InvariantCulture), int.Parse(name.AsSpan(6), CultureInfo.InvariantCulture));

    /// <inheritdoc/>
    public override string ToString() => FormattableString.Invariant($"{Year:0000}-Q{Number}");
}
