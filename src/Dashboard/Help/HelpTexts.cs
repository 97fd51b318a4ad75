using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Today;

namespace Washwear.Dashboard.Help;

/// <summary>Texts of the page of help: Help.en.json and its fellows. A name is the text's key.</summary>
internal sealed record HelpTexts
{
    internal static TextFile<HelpTexts> File { get; } = new("Help");

    internal static HelpTexts Now => File.Now;

    public required string Help { get; init; }

    public required string Finding { get; init; }

    public required string Lead { get; init; }

    public required IReadOnlyDictionary<TodayRole, HelpGuideTexts> Guides { get; init; }

    // {link} stands where the step leads.
    public required IReadOnlyDictionary<string, HelpStepTexts> Steps { get; init; }

    public required string WordsHeading { get; init; }

    public required IReadOnlyDictionary<string, HelpWordTexts> Words { get; init; }

    public required string More { get; init; }
}

/// <summary>A guide: whose, and what they want to know.</summary>
internal sealed record HelpGuideTexts(string Heading, string Asks);

/// <summary>A step; where it leads has a name of its own.</summary>
internal sealed record HelpStepTexts(string Says, string? Link = null);

/// <summary>A word of these pages and what it means.</summary>
internal sealed record HelpWordTexts(string Word, string Means);
