using Sylvan.Data.Csv;

namespace Washwear.Api.Ingest;

/// <summary>Splits a single CSV record into its cells.</summary>
internal static class CsvCells
{
    private const int BufferChars = 4096;

    /// <summary>The cells of a record; null: its double quotes are not as RFC 4180 has them.</summary>
    /// <param name="record">The record, without its line end.</param>
    /// <param name="delimiter">What separates cells.</param>
    public static string[]? Split(string record, char delimiter)
    {
        var options = new CsvDataReaderOptions
        {
            HasHeaders = false,
            Delimiter = delimiter,
            // A record that begins with # is a record.
            Comment = '\0',
            BufferSize = Math.Max(BufferChars, record.Length + 2),
        };
        try
        {
            using var text = new StringReader(record);
            using CsvDataReader csv = CsvDataReader.Create(text, options);
            if (!csv.Read())
            {
                return [];
            }

            var cells = new string[csv.RowFieldCount];
            for (int cell = 0; cell < cells.Length; cell++)
            {
                cells[cell] = csv.GetString(cell);
            }

            return csv.Read() ? null : cells;
        }
        catch (CsvFormatException)
        {
            return null;
        }
    }
}
