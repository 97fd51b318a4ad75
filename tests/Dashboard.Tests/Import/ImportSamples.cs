using Washwear.Dashboard.Import;

namespace Washwear.Dashboard.Tests.Import;

/// <summary>Invented sheets on their way in, with friendly and hostile cells.</summary>
internal static class ImportSamples
{
    private static readonly DateTimeOffset At = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);

    internal static readonly ImportStartReport Start = StartWith("washes.xlsx");

    internal static readonly ImportStartReport HostileStart = StartWith(Hostile.Name) with { Error = Hostile.Name };

    internal static readonly ImportStartReport EmptyStart = new([], [], [], 64, 48, null);

    internal static readonly ImportMapReport Map = MapWith("washes.xlsx", "OVEN-0001");

    internal static readonly ImportMapReport HostileMap = MapWith(Hostile.Name, Hostile.Name) with
    {
        DateOrder = null,
        MayStart = false,
        Questions = [new(Hostile.Name, true, false), new("Whether the day or the month comes first, nobody can tell.", true, true)],
    };

    internal static readonly ImportRunReport Done = new(7, "washes.xlsx", "wash", "import", false, "done", 61, 61, 60, 0, 37, 1, null);

    internal static readonly ImportRunReport HostileRun =
        new(7, Hostile.Name, Hostile.Name, Hostile.Name, true, "failed", null, 12, 9, 1, 0, 2, Hostile.Name);

    private static ImportStartReport StartWith(string text) => new(
        [new("wash", false), new("unit", true)],
        [new(7, text, "wash", "running", At, 1_200), new(6, text, "wash", "failed", At, 3), new(5, text, "unit", "done", At, 40)],
        [new(text, "wash")],
        64,
        48,
        null);

    private static ImportMapReport MapWith(string file, string cell)
    {
        ImportTrouble trouble = new("unit", $"There is no unit '{cell}'.", "Enter the unit in the registry first.", 3, 2);
        return new ImportMapReport(
            7, file, "wash", "import", false, "60 of 61 rows would be taken in as washes, 1 refused.", [$"Left out: '{cell}'."], null,
            [new("Every wash needs a start.", false, false)],
            [new(cell, [cell, "b"], "unit", false, "its heading says so"), new("When", ["1.3.2026"], null, true, $"neither heading nor cells tell what '{cell}' is")],
            [new("unit", "Unit (asset tag)"), new("at", "Started")],
            [new("outcome", "Outcome", cell, null, ["completed", "stopped_by_person"])],
            [new("detergent_left", "Detergent left", null, ["yes", "no"]), new("programme", "Programme", cell, [])],
            "day_first", "comma", null, ["Washes", cell], cell, 61, 60, 37, 1, 1,
            [new(2, [cell, "1.3.2026"], ImportVerdict.Refused, [trouble]), new(3, [cell, "2.3.2026"], ImportVerdict.TakenIn, [])],
            [trouble], [trouble], [("unit", cell, "OVEN-0001")], true);
    }
}
