using System.Data.Common;
using Microsoft.Data.SqlClient;
using Microsoft.Data.Sqlite;

namespace Washwear.Api.Storage;

/// <summary>Says in plain words what an engine reports by number.</summary>
internal static class DatabaseFault
{
    /// <summary>HTTP status for a request that met it: 503 and 507 can be sent again; null: a failure of this program.</summary>
    /// <param name="error">What the engine reported.</param>
    public static int? StatusOf(DbException error) => error switch
    {
        SqliteException sqlite => StatusOf(sqlite.SqliteErrorCode),
        SqlException sqlServer => SqlServerFaults.StatusOf([.. sqlServer.Errors.Cast<SqlError>().Select(one => one.Number)]),
        DatabaseBusyException => 503,
        _ => null,
    };

    private static int? StatusOf(int sqliteError) => sqliteError switch
    {
        5 or 6 or 8 or 10 or 14 => 503,
        13 => 507,
        11 or 26 => 500,
        _ => null,
    };

    /// <summary>Whether no write at all can succeed for now: another one would only wait for the same.</summary>
    /// <param name="error">What the engine reported.</param>
    public static bool StopsEveryone(Exception error) =>
        error is DatabaseBusyException
            or SqliteException { SqliteErrorCode: 5 or 6 or 7 or 8 or 10 or 11 or 13 or 14 or 26 }
            or SqlException { Class: >= 17 } or SqlException { Number: -2 or 1222 };

    /// <summary>What is wrong and what to do.</summary>
    /// <param name="error">What the engine reported.</param>
    public static string InWords(DbException error) => error is SqlException
        ? StatusOf(error) switch
        {
            503 => "The database server is busy or cannot be reached. Try again in a moment.",
            507 => "The database server has no room left. Make room, then send the same again: nothing is lost by that and nothing is stored twice.",
            _ => error.Message,
        }
        : SqliteInWords(error);

    private static string SqliteInWords(DbException error) => (error as SqliteException)?.SqliteErrorCode switch
    {
        5 or 6 => "Another process keeps the database busy. Try again in a moment.",
        8 => "The database file may only be read here. Check who may write to it and to its folder.",
        10 => "The disk cannot be read or written. Check the disk, the room on it and its quota, then try again.",
        11 => "The database file is damaged. Run 'check' to see what is, and restore a backup.",
        13 => "The disk is full. Make room, then send the same again: nothing is lost by that and nothing is stored twice.",
        14 => "A database file cannot be opened. Check that its folder exists and that you may write there.",
        26 => "The file is not a database of this program.",
        _ => error.Message,
    };
}
