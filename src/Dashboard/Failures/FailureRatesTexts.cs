using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

internal sealed record FailureRatesTexts
{
    internal static TextFile<FailureRatesTexts> File { get; } = new("FailureRates");

    internal static FailureRatesTexts Now => File.Now;

    public required string Heading { get; init; }

    // Before links to groups.
    public required string By { get; init; }

    // Where no rate can be drawn.
    public required IReadOnlyDictionary<RateGroup, string> Nothing { get; init; }

    // {link} is below.
    public required string LongerOr { get; init; }

    public required string AllUnits { get; init; }

    // {steadied} is below, in bold; {spread} a sentence further down.
    public required IReadOnlyDictionary<RateGroup, string> Luck { get; init; }

    public required string Steadied { get; init; }
    public required string Basis { get; init; }

    // What the basis counts.
    public required IReadOnlyDictionary<RateGroup, string> GroupsMany { get; init; }

    public required string Method { get; init; }

    // Help with the first row of the reader's own.
    public required PluralText Here { get; init; }

    public required PluralText PartsHere { get; init; }
    public required string ComparedHere { get; init; }

    // For the basis; {method} is how the rates are steadied.
    public required string MethodName { get; init; }

    public required RatesTableTexts Table { get; init; }
    public required RatesChartTexts Chart { get; init; }
    public required string NothingWatched { get; init; }

    // {average} of the two below.
    public required string PartFails { get; init; }

    public required string UnitFails { get; init; }
    public required IReadOnlyDictionary<RateGroup, PluralText> NoneStandsOut { get; init; }

    // {names} are codes, or as below.
    public required IReadOnlyDictionary<RateGroup, PluralText> StandOut { get; init; }

    public required string AndOthers { get; init; }
    public required IReadOnlyDictionary<RateGroup, string> NoSpread { get; init; }
    public required IReadOnlyDictionary<RateGroup, string> Spread { get; init; }
}

internal sealed record RatesTableTexts
{
    public required IReadOnlyDictionary<RateGroup, string> Captions { get; init; }

    // Where there are more rows.
    public required string AllInCsv { get; init; }

    // Head of the first column.
    public required IReadOnlyDictionary<RateGroup, string> Heads { get; init; }

    public required string Against { get; init; }
    public required string Steadied { get; init; }
    public required string Raw { get; init; }
    public required string Failures { get; init; }
    public required string Watched { get; init; }
    public required string WatchedParts { get; init; }
    public required string Ratio { get; init; }
    public required string Chance { get; init; }
    public required string ByWashes { get; init; }
    public required string All { get; init; }
}

internal sealed record RatesChartTexts
{
    public required IReadOnlyDictionary<RateGroup, string> Titles { get; init; }
    public required string Nothing { get; init; }

    // Sentences of the caption, in this order.
    public required string Some { get; init; }

    public required string Reading { get; init; }
    public required string ReadingWithFleet { get; init; }
    public required string AllTheSame { get; init; }
    public required string Highest { get; init; }
    public required string Called { get; init; }
    public required string Beyond { get; init; }

    // Of one row.
    public required PluralText Value { get; init; }

    public required PluralText ValueCalled { get; init; }
    public required string Axis { get; init; }
    public required string AxisWide { get; init; }
    public required string PartsAxis { get; init; }
    public required string PartsAxisWide { get; init; }
}
