using System.Globalization;
using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>What to tell people about instants that could not be read.</summary>
internal static class InstantText
{
    /// <summary>What an instant has to look like.</summary>
    public const string Shape = "2025-06-02T23:30:00+02:00 or 2025-06-02T21:30:00Z";

    /// <summary>Whether the text is an instant but for its offset.</summary>
    /// <param name="text">The text.</param>
    public static bool LacksOffset(string text) =>
        InstantConverter.TryParse(text + "Z", out _)
        || DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _);
}
