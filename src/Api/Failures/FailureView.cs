using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>The failures of one kind that a choice asks for, and what they are counted against. Instants are ms UTC.</summary>
/// <param name="Choice">The choice, its window filled in.</param>
/// <param name="AsOf">When it was looked at.</param>
/// <param name="Kind">Kind of failure.</param>
/// <param name="Units">Units watched at some time.</param>
/// <param name="Failures">All failures up to the end of the window, also those before it, by unit and time.</param>
/// <param name="Episodes">Episodes of faults of any code of each of the units, by its number, in the order of time.</param>
/// <param name="Excluded">What was left out, counted by reason.</param>
internal sealed record FailureView(
    FailureChoice Choice,
    DateTimeOffset AsOf,
    FailureKind Kind,
    IReadOnlyList<WatchedUnit> Units,
    IReadOnlyList<Failure> Failures,
    IReadOnlyDictionary<int, Failure[]> Episodes,
    IReadOnlyDictionary<string, int> Excluded)
{
    /// <summary>Start of the window.</summary>
    public long FromMs { get; } = Choice.From!.Value.ToUnixTimeMilliseconds();

    /// <summary>End of the window.</summary>
    public long ToMs { get; } = Choice.To!.Value.ToUnixTimeMilliseconds();

    /// <summary>The failures in the window.</summary>
    public IReadOnlyList<Failure> InWindow { get; } = Between(Failures, Choice.From!.Value, Choice.To!.Value);

    /// <summary>The failures in a window.</summary>
    /// <param name="all">The failures.</param>
    /// <param name="from">Its start.</param>
    /// <param name="to">Its end.</param>
    public static IReadOnlyList<Failure> Between(IEnumerable<Failure> all, DateTimeOffset from, DateTimeOffset to)
    {
        (long fromMs, long toMs) = (from.ToUnixTimeMilliseconds(), to.ToUnixTimeMilliseconds());
        return [.. all.Where(failure => failure.AtMs >= fromMs && failure.AtMs < toMs)];
    }

    /// <summary>Time watched in the window, unit-years.</summary>
    public double UnitYears => Units.Sum(unit => unit.Years(FromMs, ToMs));

    /// <summary>Whether a unit is one that a choice asks for.</summary>
    /// <param name="choice">The choice.</param>
    /// <param name="unit">The unit.</param>
    public static bool Asks(FailureChoice choice, UnitEntry unit) =>
        Names(choice.Operator, unit.Site.Operator.Resource.Operator)
        && Names(choice.Site, unit.Site.Resource.Site)
        && Names(choice.Model, unit.Model.Resource.Model)
        && Names(choice.Unit, unit.Resource.Unit);

    /// <summary>Whether a filter lets a code pass.</summary>
    /// <param name="asked">The filter; null: everything passes.</param>
    /// <param name="actual">The code.</param>
    public static bool Names(string? asked, string actual) => asked is null || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);
}
