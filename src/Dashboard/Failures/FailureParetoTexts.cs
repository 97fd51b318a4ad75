using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

internal sealed record FailureParetoTexts
{
    internal static TextFile<FailureParetoTexts> File { get; } = new("FailurePareto");

    internal static FailureParetoTexts Now => File.Now;

    public required string Heading { get; init; }

    // Before links.
    public required string By { get; init; }

    public required string CountedIn { get; init; }
    public required string Nothing { get; init; }
    public required IReadOnlyDictionary<ParetoMeasure, string> NothingOfMeasure { get; init; }
    public required ParetoTableTexts Table { get; init; }
    public required string Basis { get; init; }

    // What the basis counts.
    public required string Failures { get; init; }

    public required string Method { get; init; }

    // Help with a row of the reader's own.
    public required string ShareHere { get; init; }

    public required string ChangeHere { get; init; }

    // For the basis.
    public required IReadOnlyDictionary<ParetoGroup, string> MethodNames { get; init; }

    // Of a mode or cause.
    public required string NotNamed { get; init; }

    public required string NoFault { get; init; }
    public required string NoPart { get; init; }
    public required IReadOnlyDictionary<ParetoMeasure, PluralText> NoneCost { get; init; }

    // After a share, in the finding.
    public required IReadOnlyDictionary<ParetoMeasure, string> OfAll { get; init; }

    public required string Alone { get; init; }

    // After 'of' and their number.
    public required IReadOnlyDictionary<ParetoGroup, string> Kinds { get; init; }

    public required string Several { get; init; }

    // A second sentence; {rows} are as below.
    public required string ClearlyMore { get; init; }

    public required string ThenAndNow { get; init; }
    public required ParetoChartTexts Chart { get; init; }
}

internal sealed record ParetoTableTexts
{
    public required IReadOnlyDictionary<ParetoMeasure, string> Captions { get; init; }

    // Head of the first column.
    public required IReadOnlyDictionary<ParetoGroup, string> Heads { get; init; }

    public required string Failures { get; init; }
    public required string LockedOut { get; init; }
    public required string Unwashed { get; init; }
    public required string Share { get; init; }
    public required string Cumulative { get; init; }
    public required string Before { get; init; }
    public required string Change { get; init; }
    public required string P { get; init; }
    public required string NotWatched { get; init; }
}

internal sealed record ParetoChartTexts
{
    public required string Nothing { get; init; }

    // {right} is one of the three below.
    public required string FirstAlone { get; init; }

    public required string FirstTogether { get; init; }
    public required string AtRightBefore { get; init; }
    public required string AtRightCount { get; init; }
    public required string AtRightMuch { get; init; }

    // After a share, in the sentences above.
    public required IReadOnlyDictionary<ParetoMeasure, string> OfAll { get; init; }

    public required IReadOnlyDictionary<ParetoMeasure, string> Titles { get; init; }
    public required string Axis { get; init; }
    public required IReadOnlyDictionary<ParetoMeasure, string> AxisWide { get; init; }

    // Of one bar; {figures} are below.
    public required string Value { get; init; }

    public required string CountBefore { get; init; }
    public required PluralText HoursAndFailures { get; init; }
    public required PluralText DaysAndFailures { get; init; }
    public required string Hours { get; init; }
    public required string Days { get; init; }
}
