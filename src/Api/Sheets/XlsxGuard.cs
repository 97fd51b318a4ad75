using System.IO.Compression;
using Washwear.Api.Ingest;

namespace Washwear.Api.Sheets;

/// <summary>Looks at a workbook before anything of it is unpacked. The platform unpacks no more of a part than it says of itself, so the
/// sizes can be relied on.</summary>
internal static class XlsxGuard
{
    private const int MostParts = 2_000;
    private const long MostOfASmallPart = 32L * 1024 * 1024;

    /// <summary>Refuses what is no workbook, holds macros or would unpack to too much.</summary>
    /// <param name="file">The file.</param>
    /// <param name="limits">How much is read.</param>
    /// <exception cref="UnreadableBodyException">It is refused.</exception>
    public static void Check(Stream file, SheetLimits limits)
    {
        try
        {
            using var zip = new ZipArchive(file, ZipArchiveMode.Read, leaveOpen: true);
            if (zip.Entries.Count > MostParts || zip.Entries.Any(IsTooLarge) || zip.Entries.Sum(entry => entry.Length) > limits.UnpackedBytes)
            {
                throw new UnreadableBodyException(
                    "unpacks_too_large",
                    FormattableString.Invariant($"The workbook unpacks to more than {limits.UnpackedBytes / 1024 / 1024} MiB or has too many parts; it was not opened."),
                    "Keep only the sheet with the rows and save it anew, or save it as CSV (import_unpacked_mib is the limit).");
            }

            if (zip.Entries.Any(entry => entry.Name.Equals("vbaProject.bin", StringComparison.OrdinalIgnoreCase)))
            {
                throw Macros();
            }

            if (zip.GetEntry("[Content_Types].xml") is null || !zip.Entries.Any(entry => entry.FullName.StartsWith("xl/", StringComparison.OrdinalIgnoreCase)))
            {
                throw new UnreadableBodyException("not_a_workbook", "The file is packed, but is no .xlsx workbook.", "Save the sheet as .xlsx or as CSV.");
            }
        }
        catch (InvalidDataException)
        {
            throw Damaged();
        }

        file.Position = 0;
    }

    /// <summary>What to say of a workbook with macros.</summary>
    public static UnreadableBodyException Macros() => new(
        "macros", "The workbook holds macros; such files are not opened.", "Save it as a plain .xlsx workbook, without macros, or as CSV.");

    /// <summary>What to say of a workbook that is broken.</summary>
    public static UnreadableBodyException Damaged() => new(
        "damaged", "The workbook is damaged or cut short.", "Open it in the spreadsheet program and save it anew as .xlsx, or as CSV.");

    // Only the rows and the words that they share may be large; all else is read whole.
    private static bool IsTooLarge(ZipArchiveEntry entry) =>
        entry.Length > MostOfASmallPart
        && (entry.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase) || entry.FullName.EndsWith(".rels", StringComparison.OrdinalIgnoreCase))
        && !entry.FullName.Contains("/worksheets/", StringComparison.OrdinalIgnoreCase)
        && !entry.FullName.EndsWith("/sharedStrings.xml", StringComparison.OrdinalIgnoreCase);
}
