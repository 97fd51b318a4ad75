using ScottPlot;
using SkiaSharp;

namespace Washwear.Dashboard.Shell;

/// <summary>The typeface of charts, which travels inside the assembly: text is drawn on machines that have no fonts at all.</summary>
internal static class ChartFonts
{
    /// <summary>Name under which the typeface is known to the drawing library.</summary>
    internal const string Name = "WashwearChart";

    private static readonly Lazy<SKTypeface> Typeface = new(Load);
    private static readonly Lazy<bool> Registered = new(Register);

    /// <summary>Makes the typeface known; further calls do nothing.</summary>
    internal static void Ready() => _ = Registered.Value;

    /// <summary>Width of a text in the chart's typeface.</summary>
    /// <param name="text">The text.</param>
    /// <param name="size">Font size, pixels.</param>
    /// <returns>Width, pixels.</returns>
    internal static float Width(string text, float size)
    {
        using var font = new SKFont(Typeface.Value, size);
        return font.MeasureText(text);
    }

    private static bool Register()
    {
        Fonts.FontResolvers.Insert(0, new Resolver());
        Fonts.Default = Name;
        return true;
    }

    private static SKTypeface Load()
    {
        using Stream stream = typeof(ChartFonts).Assembly.GetManifestResourceStream("fonts/DejaVuSansCondensed.ttf")
            ?? throw new InvalidOperationException("The chart typeface is missing from the assembly.");
        return SKTypeface.FromStream(stream) ?? throw new InvalidOperationException("The chart typeface cannot be read.");
    }

    private sealed class Resolver : IFontResolver
    {
        // Weight and slant do not matter: charts set everything in one face.
        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
            fontName == Name ? Typeface.Value : null;

        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) => fontName == Name ? Typeface.Value : null;
    }
}
