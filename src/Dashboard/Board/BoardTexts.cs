using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Board;

/// <summary>Texts of the screen on a wall: Board.en.json and its fellows. A name is the text's key.</summary>
internal sealed record BoardTexts
{
    internal static TextFile<BoardTexts> File { get; } = new("Board");

    internal static BoardTexts Now => File.Now;

    public required string Title { get; init; }

    public required string Tally { get; init; }

    // Each follows a number.
    public required IReadOnlyDictionary<CleaningState, string> States { get; init; }

    public required string NobodyNeeded { get; init; }

    public required string Caption { get; init; }

    public required string Oven { get; init; }

    public required string Kitchen { get; init; }

    public required string State { get; init; }

    public required string Since { get; init; }

    public required string Who { get; init; }

    public required string BeforeRecords { get; init; }

    public required PluralText More { get; init; }

    public required string AsOf { get; init; }
}
