namespace Washwear.Dashboard.Shell;

/// <summary>What the scripts of every page tell: FrameScripts.en.json and its fellows. The scripts read the files themselves, under the keys in them
/// (<see cref="PageAssets.TextsUrl"/>); the type is there so that a text that is missing is found.</summary>
internal sealed record FrameScriptTexts
{
    internal static TextFile<FrameScriptTexts> File { get; } = new("FrameScripts");

    public required string ValuesOf { get; init; }

    public required string HowToRead { get; init; }

    public required string RowsAsCsv { get; init; }

    // Follows the button's words for those who hear them.
    public required string RowsOf { get; init; }

    public required string OnThisDevice { get; init; }

    public required string Show { get; init; }

    public required PluralText WaitsForSignal { get; init; }

    public required PluralText WaitsForSignIn { get; init; }

    public required PluralText Refused { get; init; }

    public required PluralText OfOthers { get; init; }

    public required PluralText Unsent { get; init; }

    public required PluralText Drafts { get; init; }

    public required string UnsentAndDrafts { get; init; }

    public required string StaysHere { get; init; }
}
