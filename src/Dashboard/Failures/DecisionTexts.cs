using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

internal sealed record DecisionTexts
{
    internal static TextFile<DecisionTexts> File { get; } = new("FailureDecisions");

    internal static DecisionTexts Now => File.Now;

    // By how many there are; more_than_five for the rest.
    public required IReadOnlyDictionary<string, string> Headings { get; init; }

    public required string MoreThanFive { get; init; }
    public required string Nothing { get; init; }
    public required string Records { get; init; }

    // Read aloud after it.
    public required string RecordsBehind { get; init; }

    public required string None { get; init; }
    public required PluralText Some { get; init; }

    // The page's answer; {what} is one of the two above.
    public required string GettingWorse { get; init; }

    public required string GettingBetter { get; init; }
    public required string NoTrendShown { get; init; }
    public required string TooLittleData { get; init; }
    public required PluralText Failures { get; init; }
    public required PluralText WithinDays { get; init; }

    // Evidence; {range} are bounds.
    public required string MoreThanExpected { get; init; }

    public required string MoreThanOneExpected { get; init; }
    public required string Batch { get; init; }
    public required string BatchGone { get; init; }
    public required PluralText BatchFitted { get; init; }
    public required string SwapBatch { get; init; }
    public required string AskSupplier { get; init; }

    // {position} as it stands inside of a sentence.
    public required string Place { get; init; }

    public required string LookAtPlace { get; init; }
    public required string Unit { get; init; }
    public required PluralText UnitFailures { get; init; }
    public required string UnitChance { get; init; }
    public required string VisitUnit { get; init; }
    public required string Position { get; init; }
    public required PluralText PositionRepairs { get; init; }
    public required string LookAtFitting { get; init; }
    public required string WrongCause { get; init; }
    public required PluralText WrongCauseRepairs { get; init; }
    public required string CheckAnother { get; init; }
    public required string Rising { get; init; }
    public required string RisingBy { get; init; }
    public required string RisingFromNone { get; init; }
    public required string FindChange { get; init; }
    public required string Worse { get; init; }
    public required string SeeMost { get; init; }
    public required string Costliest { get; init; }
    public required PluralText Costs { get; init; }
    public required string SeeKitchens { get; init; }
}
