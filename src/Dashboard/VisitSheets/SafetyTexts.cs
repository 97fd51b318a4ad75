using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.VisitSheets;

// Facts after 29 CFR 1910.147 (isolation, and its order), 1910.333 and 1910.334 (electrical work), 1910.133, 1910.138 and 1910.151 (eyes, hands,
// flushing), 1910.242 (blowing out) and CSB Bulletin 2003-10-B (nitrogen), in words of our own. Whoever words them in another language leaves out no
// step and keeps their order.
internal sealed record SafetyTexts
{
    internal static TextFile<SafetyTexts> File { get; } = new("Safety");

    internal static SafetyTexts Now => File.Now;

    public required string Deferral { get; init; }

    public required string IsolateFirst { get; init; }

    // {first}: IsolateFirst, in bold.
    public required string BeforeOpening { get; init; }

    // By hazard, as the registry spells it.
    public required IReadOnlyDictionary<string, CautionTexts> Cautions { get; init; }

    public required IReadOnlyDictionary<string, string> Hazards { get; init; }
}

internal sealed record CautionTexts(string Title, string Text);
