using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Tells photos from other files by what they begin with, never by their names.</summary>
internal static class PhotoFile
{
    /// <summary>Largest photo, bytes.</summary>
    public const int MostBytes = VisitPhoto.MostMebibytes * 1024 * 1024;

    /// <summary>Media type of a photo; null: it is none that is kept here.</summary>
    /// <param name="bytes">The file, or its beginning.</param>
    public static string? KindOf(ReadOnlySpan<byte> bytes) =>
        bytes is [0xFF, 0xD8, 0xFF, ..] ? "image/jpeg"
        : IsPng(bytes) ? "image/png"
        : bytes.Length >= 12 && bytes.StartsWith("RIFF"u8) && bytes[8..].StartsWith("WEBP"u8) ? "image/webp"
        : null;

    private static bool IsPng(ReadOnlySpan<byte> bytes) =>
        bytes.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
}
