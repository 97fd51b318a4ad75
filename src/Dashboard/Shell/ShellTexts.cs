namespace Washwear.Dashboard.Shell;

/// <summary>Texts of what pages of every folder share: figures in words, the frame, lists, charts. Shell.en.json and its fellows; a name is the text's key.</summary>
internal sealed record ShellTexts
{
    internal static TextFile<ShellTexts> File { get; } = new("Shell");

    internal static ShellTexts Now => File.Now;

    public required string LessThanAMinute { get; init; }

    public required PluralText Days { get; init; }

    // After a preposition ('vor', 'seit', 'nach') German has another case than by itself.
    public required string LessThanAMinuteAfter { get; init; }

    public required PluralText DaysAfter { get; init; }

    public required string Hours { get; init; }

    public required string Minutes { get; init; }

    public required string Ago { get; init; }

    public required string Ahead { get; init; }

    public required FigureTexts Figures { get; init; }

    public required IReadOnlyDictionary<string, string> ClockUnits { get; init; }

    public required IReadOnlyDictionary<string, string> ClockUnitsAfter { get; init; }

    // Words and symbols that a number is not parted from at the end of a line; a space between each two.
    public required string UnitsAfterNumbers { get; init; }

    // Along an axis.
    public required string Age { get; init; }

    // Codes of the API that pages of several folders show and that mean the same everywhere.
    public required IReadOnlyDictionary<string, string> Codes { get; init; }

    public required BasisTexts Basis { get; init; }

    public required FrameTexts Frame { get; init; }

    public required NavigationTexts Navigation { get; init; }

    public required ListTexts Lists { get; init; }

    public required ChartTexts Charts { get; init; }

    public required EmptyTexts Empty { get; init; }

    public required ProblemTexts Problem { get; init; }
}

/// <summary>Figures and their bounds.</summary>
internal sealed record FigureTexts
{
    public required string NotKnown { get; init; }

    public required string Under { get; init; }

    public required string Over { get; init; }

    public required string Between { get; init; }

    public required string AtLeast { get; init; }

    public required string AtMost { get; init; }

    public required string NoBounds { get; init; }

    public required string P { get; init; }

    public required string PUnder { get; init; }

    public required string PNotKnown { get; init; }
}

/// <summary>The note that says what an answer rests on.</summary>
internal sealed record BasisTexts
{
    public required string Label { get; init; }

    // Before a doubt.
    public required string Mind { get; init; }

    public required string Method { get; init; }

    public required string Clock { get; init; }

    public required string ComputedFrom { get; init; }

    public required string Records { get; init; }

    // {noun} is what the method counts, in the plural.
    public required string Counted { get; init; }

    public required string CountedOne { get; init; }

    public required PluralText Failures { get; init; }

    public required string CountedAndFailures { get; init; }

    public required string Window { get; init; }

    public required string UpTo { get; init; }

    public required string FromTo { get; init; }

    public required string LeftOut { get; init; }

    // Why something was left out, by the code that the API answers.
    public required IReadOnlyDictionary<string, string> LeftOutReasons { get; init; }

    public required string AsOf { get; init; }
}

/// <summary>What stands around every page.</summary>
internal sealed record FrameTexts
{
    public required string SkipToContent { get; init; }

    public required string AboutTheseData { get; init; }

    public required string InventedData { get; init; }

    public required string InventedDataSays { get; init; }

    public required string ToTheFirstPage { get; init; }

    // Where one searches.
    public required string Everything { get; init; }

    public required string Find { get; init; }

    public required string FindWhat { get; init; }

    public required string SignOut { get; init; }

    // {time} is an instant.
    public required string Help { get; init; }

    public required string AsOf { get; init; }

    public required string OnSiteClocks { get; init; }

    public required string OnClockOf { get; init; }
}

/// <summary>The pages by question.</summary>
internal sealed record NavigationTexts
{
    // Read aloud.
    public required string Pages { get; init; }

    public required string AllPages { get; init; }

    public required string Menu { get; init; }

    public required string You { get; init; }

    public required string YourAccount { get; init; }

    public required string Today { get; init; }

    public required string WhatNeedsYou { get; init; }

    public required string Alerts { get; init; }

    public required string Approvals { get; init; }

    public required string Digest { get; init; }

    public required string KitchensAndOvens { get; init; }

    public required string Cleaning { get; init; }

    public required string Kitchens { get; init; }

    public required string Operators { get; init; }

    public required string Units { get; init; }

    public required string FailuresAndParts { get; init; }

    public required string Failures { get; init; }

    public required string Repairs { get; init; }

    public required string PartLife { get; init; }

    public required string Planning { get; init; }

    public required string VisitsToPlan { get; init; }

    public required string WhenToReplace { get; init; }

    public required string Stock { get; init; }

    public required string Forecast { get; init; }

    public required string WhatIf { get; init; }

    public required string Records { get; init; }

    public required string OnDevice { get; init; }

    public required string Import { get; init; }

    public required string Links { get; init; }

    public required string Api { get; init; }

    public required string Installation { get; init; }

    public required string People { get; init; }

    public required string Keys { get; init; }

    public required string Upkeep { get; init; }

    public required string Audit { get; init; }
}

/// <summary>What stands beneath a list.</summary>
internal sealed record ListTexts
{
    public required string NextPage { get; init; }

    public required string FirstPage { get; init; }

    // A longer page: how many rows it has.
    public required string AtOnce { get; init; }

    public required string FewerAtOnce { get; init; }

    public required string UsualOrder { get; init; }

    public required string AsCsv { get; init; }
}

/// <summary>What stands beneath a chart.</summary>
internal sealed record ChartTexts
{
    public required string NumbersInATable { get; init; }

    public required string NumbersOf { get; init; }

    public required string TakeAlong { get; init; }

    // Follows the name of a form, such as 'SVG', for those who hear it.
    public required string OfTitle { get; init; }
}

/// <summary>A page without data.</summary>
internal sealed record EmptyTexts
{
    public required string Heading { get; init; }

    public required string Import { get; init; }

    public required string Reference { get; init; }
}

/// <summary>A page that cannot be shown.</summary>
internal sealed record ProblemTexts
{
    public required IReadOnlyDictionary<string, string> Titles { get; init; }

    public required IReadOnlyDictionary<string, string> Says { get; init; }

    public required string AskedWrongly { get; init; }

    public required string AskedWronglySays { get; init; }

    public required string Status { get; init; }

    public required string WithoutChoices { get; init; }

    public required string LookFor { get; init; }

    public required string NothingUnder { get; init; }

    public required string Quote { get; init; }

    public required string ToTheFirstPage { get; init; }
}
