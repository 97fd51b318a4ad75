using System.Data.Common;
using Microsoft.Data.SqlClient;
using Microsoft.Data.Sqlite;

namespace Washwear.Api.Storage;

/// <summary>Says in plain words what an engine reports by number.</summary>
internal static class DatabaseFault
{
    /// <summary>Whether no write at all can succeed for now: another one would only wait for the same.</summary>
    /// <param name="error">What the engine reported.</param>
    public static bool StopsEveryone(Exception error) =>
        error is DatabaseBusyException
            or SqliteException { SqliteErrorCode: 5 or 6 or 7 or 8 or 10 or 11 or 13 or 14 or 26 }
            or SqlException { Class: >= 17 } or SqlException { Number: -2 or 1222 };

    /// <summary>What is wrong and what to do.</summary>
    /// <param name="error">What the engine reported.</param>
    public static string InWords(DbException error) => (error as SqliteException)?.SqliteErrorCode switch
    {
        5 or 6 => "Another process keeps the database busy. Try again in a moment.",
        8 => "The database file may only be read here. Check who may write to it and to its folder.",
        11 => "The database file is damaged. Restore a backup.",
        13 => "The disk is full. Make room and try again; nothing was stored.",
        14 => "A database file cannot be opened. Check that its folder exists and that you may write there.",
        26 => "The file is not a database of this program.",
        _ => error.Message,
    };
}
