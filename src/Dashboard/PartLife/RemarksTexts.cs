using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

internal sealed record RemarksTexts
{
    internal static TextFile<RemarksTexts> File { get; } = new("Remarks");

    internal static RemarksTexts Now => File.Now;

    // In English as Analytics and the API word them: a remark is told apart by it.
    public required IReadOnlyDictionary<string, string> Known { get; init; }
}
