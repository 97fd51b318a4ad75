namespace Washwear.Dashboard.Shell;

/// <summary>A part that a chart is drawn of, with its colour in light and in dark.</summary>
/// <param name="Name">Name, as the classes of the picture spell it.</param>
/// <param name="Light">Colour on light ground, #rrggbb; no two parts share one, so that a drawn colour tells its part.</param>
/// <param name="Dark">Colour on dark ground, #rrggbb.</param>
public sealed record Ink(string Name, string Light, string Dark);

/// <summary>The colours of charts. Colour is never the only sign: each meaning also has a letter, a label or a shape.</summary>
public static class Inks
{
    /// <summary>The ground of a picture that stands alone.</summary>
    public static Ink Paper { get; } = new("paper", "#fcfdfb", "#131b19");

    /// <summary>Text and axes.</summary>
    public static Ink Text { get; } = new("text", "#1b2523", "#e4ebe8");

    /// <summary>Grid lines.</summary>
    public static Ink Grid { get; } = new("grid", "#dbe2de", "#2b3835");

    /// <summary>A fitted model.</summary>
    public static Ink Fitted { get; } = new("fitted", "#00665e", "#5fcdbf");

    /// <summary>The bounds of a fitted model.</summary>
    public static Ink FittedBand { get; } = new("fitted-band", "#d3e7e3", "#1c413c");

    /// <summary>What was observed, without a model.</summary>
    public static Ink Observed { get; } = new("observed", "#3d3a86", "#b1b3f7");

    /// <summary>The bounds of what was observed.</summary>
    public static Ink ObservedBound { get; } = new("observed-bound", "#7d7abf", "#7f7dc4");

    /// <summary>Points that stand for single failures.</summary>
    public static Ink Point { get; } = new("point", "#2a2760", "#d0d1ff");

    /// <summary>Bars of what was kept.</summary>
    public static Ink Kept { get; } = new("kept", "#1f7f74", "#43b3a4");

    /// <summary>Bars of what the kitchen could have done.</summary>
    public static Ink Kitchen { get; } = new("kitchen", "#b0560a", "#eda45c");

    /// <summary>Bars of what waits for service.</summary>
    public static Ink Service { get; } = new("service", "#a51c44", "#f788a2");

    /// <summary>Bars of what nobody can tell.</summary>
    public static Ink Unheard { get; } = new("unheard", "#62668f", "#a9aee0");

    /// <summary>Bars of time in which no wash was owed.</summary>
    public static Ink NotOwed { get; } = new("not-owed", "#75827d", "#8c9994");

    /// <summary>The error bar over a bar.</summary>
    public static Ink Whisker { get; } = new("whisker", "#0f1514", "#ffffff");

    /// <summary>A day with a wash that counts.</summary>
    public static Ink DayCounted { get; } = new("day-counted", "#17867b", "#2f9488");

    /// <summary>A day with a clean by hand that counts.</summary>
    public static Ink DayByHand { get; } = new("day-by-hand", "#bfe3dd", "#1d4f48");

    /// <summary>A day with a wash that does not count.</summary>
    public static Ink DayShort { get; } = new("day-short", "#f3dea6", "#5d4a12");

    /// <summary>A day with a wash that was stopped.</summary>
    public static Ink DayStopped { get; } = new("day-stopped", "#f2c39f", "#6f3a16");

    /// <summary>A day on which the unit refused to wash.</summary>
    public static Ink DayRefused { get; } = new("day-refused", "#efb5c4", "#75203c");

    /// <summary>A day on which nobody started a wash.</summary>
    public static Ink DayNone { get; } = new("day-none", "#fffefa", "#0c1211");

    /// <summary>A day on which nothing was heard.</summary>
    public static Ink DaySilent { get; } = new("day-silent", "#d4d6ee", "#3a3e6b");

    /// <summary>A day on which no wash was owed.</summary>
    public static Ink DayFree { get; } = new("day-free", "#e9edea", "#222d2a");

    /// <summary>The edge of a day.</summary>
    public static Ink DayEdge { get; } = new("day-edge", "#7b8883", "#6e7b76");

    /// <summary>The letter in a day.</summary>
    public static Ink DayLetter { get; } = new("day-letter", "#202b29", "#dfe8e4");

    /// <summary>All parts.</summary>
    public static IReadOnlyList<Ink> All { get; } =
    [
        Paper, Text, Grid, Fitted, FittedBand, Observed, ObservedBound, Point, Kept, Kitchen, Service, Unheard, NotOwed, Whisker,
        DayCounted, DayByHand, DayShort, DayStopped, DayRefused, DayNone, DaySilent, DayFree, DayEdge, DayLetter,
    ];

    /// <summary>The rules that colour the classes of pictures.</summary>
    /// <returns>A style sheet; dark applies on screens only, so that print stays light.</returns>
    public static string Css() =>
        Rules(ink => ink.Light) + "@media screen and (prefers-color-scheme: dark) {\n" + Rules(ink => ink.Dark) + "}\n";

    private static string Rules(Func<Ink, string> colour) => string.Concat(All.Select(ink =>
        ".fill-" + ink.Name + " { fill: " + colour(ink) + "; }\n.line-" + ink.Name + " { stroke: " + colour(ink) + "; }\n"));
}
