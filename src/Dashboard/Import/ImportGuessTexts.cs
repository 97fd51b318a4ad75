using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Import;

/// <summary>What is said of guesses: why, what is open, what was decided.</summary>
internal sealed record ImportGuessTexts
{
    internal static TextFile<ImportGuessTexts> File { get; } = new("ImportGuesses");

    internal static ImportGuessTexts Now => File.Now;

    public required IReadOnlyDictionary<ImportWhy, string> Whys { get; init; }
    public required IReadOnlyDictionary<ImportAsk, string> Asks { get; init; }
    public required IReadOnlyDictionary<ImportNote, string> Notes { get; init; }
    public required IReadOnlyDictionary<string, string> Separators { get; init; }
    public required string Quoted { get; init; }
    public required string Both { get; init; }
}
