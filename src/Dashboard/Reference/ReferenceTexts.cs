using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Reference;

/// <summary>Texts of the page of the API: Reference.en.json and its fellows. A name is the text's key.</summary>
internal sealed record ReferenceTexts
{
    internal static TextFile<ReferenceTexts> File { get; } = new("Reference");

    internal static ReferenceTexts Now => File.Now;

    public required string Title { get; init; }

    public required string Finding { get; init; }

    public required string Lead { get; init; }

    public required string AsJson { get; init; }

    public required string AsYaml { get; init; }

    public required string NeedsScripts { get; init; }
}
