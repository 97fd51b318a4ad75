namespace Washwear.Api.Storage.Archive;

/// <summary>What an archive holds: the entry manifest.json of the ZIP file; each table lies beside it as NAME.ndjson.</summary>
/// <param name="Format">Number of the format.</param>
/// <param name="WrittenAt">When it was written.</param>
/// <param name="From">Engine that it was written from.</param>
/// <param name="Tables">The tables, each after those that it refers to.</param>
internal sealed record ArchiveManifest(int Format, DateTimeOffset WrittenAt, string From, IReadOnlyList<TableManifest> Tables)
{
    /// <summary>Name of the entry.</summary>
    public const string Entry = "manifest.json";

    /// <summary>The format that this program writes and reads.</summary>
    public const int CurrentFormat = 1;
}

/// <summary>One table of an archive.</summary>
/// <param name="Table">Name.</param>
/// <param name="Columns">Its columns, in the order of the values in each line.</param>
/// <param name="Rows">How many rows.</param>
/// <param name="Digest">Sum, modulo 2^256, of the SHA-256 of each row's line; hexadecimal. The order of rows makes no difference.</param>
internal sealed record TableManifest(string Table, IReadOnlyList<ColumnManifest> Columns, long Rows, string Digest);

/// <summary>One column.</summary>
/// <param name="Name">Name.</param>
/// <param name="Kind">What its values are, null aside.</param>
internal sealed record ColumnManifest(string Name, ColumnKind Kind);

/// <summary>What the values of a column are, whatever an engine calls it.</summary>
internal enum ColumnKind
{
    /// <summary>A whole number of 64 bits.</summary>
    Integer,

    /// <summary>A number in double precision.</summary>
    Real,

    /// <summary>A text.</summary>
    Text,

    /// <summary>Bytes, in base 64.</summary>
    Bytes,
}
