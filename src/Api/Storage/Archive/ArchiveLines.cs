using System.Buffers;
using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Dapper;

namespace Washwear.Api.Storage.Archive;

/// <summary>Turns rows into lines and back: a JSON array with a value for each column, the same bytes whichever engine the row is in.</summary>
internal sealed class ArchiveLines : IDisposable
{
    private readonly ArrayBufferWriter<byte> _buffer = new();
    private readonly Utf8JsonWriter _json;
    private readonly IReadOnlyList<ColumnManifest> _columns;

    /// <summary>Prepares for a table.</summary>
    /// <param name="columns">Its columns.</param>
    public ArchiveLines(IReadOnlyList<ColumnManifest> columns)
    {
        _columns = columns;
        _json = new Utf8JsonWriter(_buffer);
    }

    /// <summary>The columns that a table has in an engine.</summary>
    /// <param name="connection">A connection.</param>
    /// <param name="transaction">Its transaction.</param>
    /// <param name="table">The table.</param>
    /// <param name="cancellationToken">Stops asking.</param>
    public static async Task<IReadOnlyList<ColumnManifest>> ColumnsAsync(
        DbConnection connection, DbTransaction transaction, ArchivedTable table, CancellationToken cancellationToken)
    {
        IEnumerable<CatalogueRow> rows = await connection.QueryAsync<CatalogueRow>(new CommandDefinition(
            ArchivedTable.ColumnsSql.For(connection), new { table = table.Name }, transaction, cancellationToken: cancellationToken));
        return [.. rows.Select(row => new ColumnManifest(row.Name, KindOf(row.Type)))];
    }

    /// <summary>A row as a line, without the line's end; good until the next call.</summary>
    /// <param name="row">The reader on its row.</param>
    /// <param name="ordinals">Where the columns are in it.</param>
    public ReadOnlySpan<byte> Line(DbDataReader row, ReadOnlySpan<int> ordinals)
    {
        _buffer.ResetWrittenCount();
        _json.Reset();
        _json.WriteStartArray();
        for (int index = 0; index < ordinals.Length; index++)
        {
            Write(row.GetValue(ordinals[index]), _columns[index].Kind);
        }

        _json.WriteEndArray();
        _json.Flush();
        return _buffer.WrittenSpan;
    }

    /// <summary>The values of a line, as a database takes them; null is DBNull.</summary>
    /// <param name="line">The line.</param>
    /// <param name="values">Where to, one for each column.</param>
    /// <exception cref="JsonException">It is no line of this table.</exception>
    public void Read(ReadOnlySpan<byte> line, object[] values)
    {
        var json = new Utf8JsonReader(line);
        Expect(json.Read() && json.TokenType == JsonTokenType.StartArray);
        for (int index = 0; index < values.Length; index++)
        {
            Expect(json.Read() && json.TokenType is JsonTokenType.Null or JsonTokenType.Number or JsonTokenType.String);
            values[index] = json.TokenType == JsonTokenType.Null ? DBNull.Value : Value(ref json, _columns[index].Kind);
        }

        Expect(json.Read() && json.TokenType == JsonTokenType.EndArray);
    }

    /// <inheritdoc/>
    public void Dispose() => _json.Dispose();

    private static void Expect(bool holds)
    {
        if (!holds)
        {
            throw new JsonException("A line does not hold the values that the manifest says.");
        }
    }

    private static object Value(ref Utf8JsonReader json, ColumnKind kind)
    {
        try
        {
            return kind switch
            {
                ColumnKind.Integer => json.GetInt64(),
                ColumnKind.Real => json.GetDouble(),
                ColumnKind.Text => json.GetString()!,
                _ => json.GetBytesFromBase64(),
            };
        }
        catch (Exception error) when (error is InvalidOperationException or FormatException)
        {
            throw new JsonException("A line holds a value of another kind than the manifest says.", error);
        }
    }

    private static ColumnKind KindOf(string type) => type.ToUpperInvariant() switch
    {
        "INTEGER" or "INT" or "BIGINT" or "SMALLINT" or "TINYINT" or "BIT" => ColumnKind.Integer,
        "REAL" or "FLOAT" => ColumnKind.Real,
        "TEXT" or "NVARCHAR" or "VARCHAR" or "CHAR" or "NCHAR" => ColumnKind.Text,
        "BLOB" or "VARBINARY" or "BINARY" => ColumnKind.Bytes,
        var other => throw new NotSupportedException($"An archive cannot carry a column of type {other}."),
    };

    private void Write(object value, ColumnKind kind)
    {
        if (value is DBNull)
        {
            _json.WriteNullValue();
            return;
        }

        switch (kind)
        {
            case ColumnKind.Integer:
                _json.WriteNumberValue(Convert.ToInt64(value, CultureInfo.InvariantCulture));
                break;
            case ColumnKind.Real:
                _json.WriteNumberValue(Convert.ToDouble(value, CultureInfo.InvariantCulture));
                break;
            case ColumnKind.Text:
                _json.WriteStringValue((string)value);
                break;
            default:
                _json.WriteBase64StringValue((byte[])value);
                break;
        }
    }

    private sealed class CatalogueRow
    {
        public string Name { get; init; } = string.Empty;

        public string Type { get; init; } = string.Empty;
    }
}
