using System.Data.Common;
using System.Text;
using Microsoft.Data.SqlClient;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Washwear.Api.Storage;

/// <summary>A statement of one connection that is prepared once and run again and again. Not safe for concurrent use.</summary>
/// <remarks>Most of what taking in a record costs is running such statements. With SQLite a statement that gives no row, or of whose rows only
/// the first is wanted, is run straight through the engine's functions: its library looks each parameter up by name at each run, which takes as
/// long as the insert itself.</remarks>
/// <param name="connection">The connection.</param>
/// <param name="sql">The statement in the engine's words.</param>
/// <param name="names">Names of the parameters, without the mark.</param>
internal sealed class PreparedStatement(DbConnection connection, string sql, IReadOnlyList<string> names) : IDisposable
{
    private const int ShortTextBytes = 512;

    private readonly SqliteConnection? _sqlite = connection as SqliteConnection;
    private sqlite3_stmt? _direct;
    private int[] _places = [];
    private DbCommand? _command;

    /// <summary>The statement.</summary>
    public string Sql => sql;

    /// <summary>Runs it.</summary>
    /// <param name="transaction">The transaction.</param>
    /// <param name="values">One value a parameter, in the order of the names; null is NULL.</param>
    /// <returns>How many rows it changed.</returns>
    /// <exception cref="DbException">The engine refused.</exception>
    public int Run(DbTransaction transaction, ReadOnlySpan<object?> values)
    {
        if (_sqlite is null)
        {
            return Command(transaction, values).ExecuteNonQuery();
        }

        sqlite3_stmt statement = Bound(_sqlite, values);
        Step(statement);
        Check(raw.sqlite3_reset(statement));
        return raw.sqlite3_changes(_sqlite.Handle);
    }

    /// <summary>Asks it for its first row.</summary>
    /// <param name="transaction">The transaction.</param>
    /// <param name="values">One value a parameter, in the order of the names; null is NULL.</param>
    /// <returns>The values of the row, NULL as null; null: there is none.</returns>
    /// <exception cref="DbException">The engine refused.</exception>
    public object?[]? First(DbTransaction transaction, ReadOnlySpan<object?> values)
    {
        if (_sqlite is null)
        {
            using DbDataReader rows = Command(transaction, values).ExecuteReader();
            return rows.Read() ? ValuesOf(rows) : null;
        }

        sqlite3_stmt statement = Bound(_sqlite, values);
        object?[]? row = Step(statement) ? ValuesOf(statement) : null;
        Check(raw.sqlite3_reset(statement));
        return row;
    }

    /// <summary>The statement as a command, its values set, to be asked for rows.</summary>
    /// <param name="transaction">The transaction.</param>
    /// <param name="values">One value a parameter, in the order of the names; null is NULL.</param>
    public DbCommand Command(DbTransaction transaction, ReadOnlySpan<object?> values)
    {
        _command ??= PrepareCommand();
        _command.Transaction = transaction;
        for (int index = 0; index < values.Length; index++)
        {
            DbParameter parameter = _command.Parameters[index];
            if (parameter is SqlParameter typed)
            {
                SqlServerValue.Set(typed, values[index]);
            }
            else
            {
                parameter.Value = values[index] ?? DBNull.Value;
            }
        }

        return _command;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _direct?.Dispose();
        _command?.Dispose();
    }

    private static object?[] ValuesOf(DbDataReader rows)
    {
        var values = new object?[rows.FieldCount];
        for (int column = 0; column < values.Length; column++)
        {
            values[column] = rows.IsDBNull(column) ? null : rows.GetValue(column);
        }

        return values;
    }

    private static object?[] ValuesOf(sqlite3_stmt statement)
    {
        var values = new object?[raw.sqlite3_column_count(statement)];
        for (int column = 0; column < values.Length; column++)
        {
            values[column] = raw.sqlite3_column_type(statement, column) switch
            {
                raw.SQLITE_INTEGER => raw.sqlite3_column_int64(statement, column),
                raw.SQLITE_FLOAT => raw.sqlite3_column_double(statement, column),
                raw.SQLITE_TEXT => raw.sqlite3_column_text(statement, column).utf8_to_string(),
                raw.SQLITE_BLOB => raw.sqlite3_column_blob(statement, column).ToArray(),
                _ => null,
            };
        }

        return values;
    }

    private static int Bind(sqlite3_stmt statement, int place, object? value) => value switch
    {
        null or DBNull => raw.sqlite3_bind_null(statement, place),
        long whole => raw.sqlite3_bind_int64(statement, place, whole),
        int whole => raw.sqlite3_bind_int64(statement, place, whole),
        string text => Bind(statement, place, text),
        double number => raw.sqlite3_bind_double(statement, place, number),
        byte[] { Length: 0 } => raw.sqlite3_bind_zeroblob(statement, place, 0),
        byte[] bytes => raw.sqlite3_bind_blob(statement, place, bytes),
        _ => throw new ArgumentException($"A value of type {value.GetType().Name} has no form in the database.", nameof(value)),
    };

    private static int Bind(sqlite3_stmt statement, int place, string text)
    {
        if (text.Length == 0)
        {
            return raw.sqlite3_bind_text(statement, place, text);
        }

        if (Encoding.UTF8.GetMaxByteCount(text.Length) > ShortTextBytes)
        {
            return raw.sqlite3_bind_text(statement, place, Encoding.UTF8.GetBytes(text));
        }

        Span<byte> bytes = stackalloc byte[ShortTextBytes];
        return raw.sqlite3_bind_text(statement, place, bytes[..Encoding.UTF8.GetBytes(text, bytes)]);
    }

    private sqlite3_stmt Bound(SqliteConnection sqlite, ReadOnlySpan<object?> values)
    {
        sqlite3_stmt statement = _direct ??= PrepareDirect(sqlite);
        for (int index = 0; index < values.Length; index++)
        {
            Check(Bind(statement, _places[index], values[index]));
        }

        return statement;
    }

    // Whether there is a row.
    private bool Step(sqlite3_stmt statement)
    {
        int result = raw.sqlite3_step(statement);
        if (result is not (raw.SQLITE_DONE or raw.SQLITE_ROW))
        {
            raw.sqlite3_reset(statement);
            Check(result);
        }

        return result == raw.SQLITE_ROW;
    }

    private sqlite3_stmt PrepareDirect(SqliteConnection sqlite)
    {
        Check(raw.sqlite3_prepare_v3(sqlite.Handle, sql, raw.SQLITE_PREPARE_PERSISTENT, out sqlite3_stmt statement));
        _places = [.. names.Select(name => raw.sqlite3_bind_parameter_index(statement, "@" + name))];
        return statement;
    }

    private void Check(int result)
    {
        if (result != raw.SQLITE_OK)
        {
            SqliteException.ThrowExceptionForRC(result, _sqlite!.Handle);
        }
    }

    private DbCommand PrepareCommand()
    {
        DbCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // The text is a constant of the caller.
        command.CommandText = sql;
#pragma warning restore CA2100
        foreach (string name in names)
        {
            DbParameter parameter = command.CreateParameter();
            parameter.ParameterName = "@" + name;
            command.Parameters.Add(parameter);
        }

        return command;
    }
}
