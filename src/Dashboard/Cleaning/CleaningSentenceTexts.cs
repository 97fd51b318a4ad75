using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

internal sealed record CleaningSentenceTexts
{
    internal static TextFile<CleaningSentenceTexts> File { get; } = new("CleaningSentences");

    internal static CleaningSentenceTexts Now => File.Now;

    // The end of a sentence on how a unit stands.
    public required IReadOnlyDictionary<Mover, string> Moves { get; init; }

    // What a rule asks for, within a sentence.
    public required IReadOnlyDictionary<ProgrammeGrade, string> Washes { get; init; }

    public required RuleTexts Rule { get; init; }

    public required StatusTexts Status { get; init; }

    public required FleetTexts Fleet { get; init; }
}

internal sealed record RuleTexts
{
    public required string WithGrace { get; init; }

    public required string WithoutGrace { get; init; }

    public required string TradingDay { get; init; }

    public required string TradingDays { get; init; }

    public required string Hours { get; init; }

    public required string Time { get; init; }

    public required PluralText OtherWashes { get; init; }

    public required string OperatingHours { get; init; }

    public required string ByHardness { get; init; }

    public required string ForWater { get; init; }

    public required string Strictest { get; init; }

    public required string NoProgramme { get; init; }

    public required string TooLong { get; init; }

    public required PluralText UnknownHardness { get; init; }
}

internal sealed record StatusTexts
{
    public required string Washed { get; init; }

    public required string NeverWashed { get; init; }

    public required string Descaled { get; init; }

    public required string NeverDescaled { get; init; }

    public required string NobodyDescaled { get; init; }

    public required string Clean { get; init; }

    public required string CleanDue { get; init; }

    public required string Due { get; init; }

    public required string DueSince { get; init; }

    public required string Overdue { get; init; }

    public required string LockedOut { get; init; }

    public required string LockedOutWashed { get; init; }

    public required string Silent { get; init; }

    public required string NeverHeard { get; init; }

    public required string Closed { get; init; }

    public required string OutOfService { get; init; }

    public required string NotYetThere { get; init; }

    public required string Method { get; init; }

    public required PluralText UnderNoRule { get; init; }
}

internal sealed record FleetTexts
{
    public required string NoRule { get; init; }

    public required string None { get; init; }

    public required string NoneButSilent { get; init; }

    public required string Some { get; init; }

    public required string SomeAndSilent { get; init; }

    public required PluralText Overdue { get; init; }

    public required PluralText LockedOut { get; init; }

    public required PluralText Silent { get; init; }

    public required PluralText AllInTime { get; init; }

    public required PluralText Late { get; init; }

    public required string WithDescaling { get; init; }

    public required PluralText LateForDescaling { get; init; }
}
