using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

internal sealed record PartLifeGroupsTexts
{
    internal static TextFile<PartLifeGroupsTexts> File { get; } = new("PartLifeGroups");

    internal static PartLifeGroupsTexts Now => File.Now;

    public required string Heading { get; init; }
    public required string OneGroup { get; init; }
    public required string NoneEarlier { get; init; }

    // Of a list; '; ' stands between.
    public required PluralText Earlier { get; init; }

    public required IReadOnlyDictionary<GroupVerdict, string> Verdicts { get; init; }
    public required string Caption { get; init; }
    public required string Group { get; init; }
    public required string Parts { get; init; }
    public required string Failures { get; init; }
    public required string Expected { get; init; }
    public required string Scale { get; init; }
    public required string ScaleShort { get; init; }
    public required string Ratio { get; init; }
    public required string Says { get; init; }
    public required string Note { get; init; }
    public required PluralText LeftOut { get; init; }

    // What unfolds them.
    public required PluralText Doubts { get; init; }

    public required GroupHelpTexts Help { get; init; }
    public required ClockTexts Clocks { get; init; }
    public required ModeTexts Modes { get; init; }
}

internal sealed record GroupHelpTexts
{
    // Help in place.
    public required string Ratio { get; init; }

    public required string RatioHere { get; init; }
    public required string Expected { get; init; }
    public required string ExpectedHere { get; init; }
    public required string PValue { get; init; }
}

internal sealed record ClockTexts
{
    public required string Heading { get; init; }
    public required string Decided { get; init; }
    public required string Undecided { get; init; }
    public required string Caption { get; init; }
    public required string CountedIn { get; init; }
    public required string Aic { get; init; }
    public required string B10 { get; init; }

    // Help in place.
    public required string Help { get; init; }

    public required string HelpHere { get; init; }
}

internal sealed record ModeTexts
{
    public required string Heading { get; init; }
    public required string NoneToldApart { get; init; }
    public required string NoMethod { get; init; }
    public required PluralText EndsMost { get; init; }
    public required PluralText EndsMostAgeing { get; init; }

    // A mode, in the sentences above.
    public required string Unnamed { get; init; }

    public required string Method { get; init; }
    public required string Independence { get; init; }
    public required string NoCurve { get; init; }
    public required string Caption { get; init; }
    public required string Mode { get; init; }
    public required string Failures { get; init; }
    public required string Ended { get; init; }
    public required string Shape { get; init; }
    public required string B10 { get; init; }
    public required string Says { get; init; }
    public required string NotNamed { get; init; }
    public required string StepsCaption { get; init; }
    public required string StepsSome { get; init; }
    public required string Failed { get; init; }
    public required string EndedByIt { get; init; }
    public required string Lower { get; init; }
    public required string Upper { get; init; }

    // Help in place.
    public required string Help { get; init; }

    public required string HelpHere { get; init; }
    public required string HelpAlone { get; init; }
    public required string HelpAloneHere { get; init; }
    public required IncidenceTexts Chart { get; init; }
}

internal sealed record IncidenceTexts
{
    public required string Nothing { get; init; }
    public required string Sentence { get; init; }

    // In the sentence above.
    public required string UnnamedInside { get; init; }

    public required string Title { get; init; }
    public required string Axis { get; init; }
    public required string Value { get; init; }
}
