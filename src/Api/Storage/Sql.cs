using System.Data.Common;
using Microsoft.Data.SqlClient;

namespace Washwear.Api.Storage;

/// <summary>A statement in the words of each engine, side by side. A plain text stands for both where both agree.</summary>
/// <param name="Sqlite">As SQLite understands it.</param>
/// <param name="SqlServer">As SQL Server understands it.</param>
public readonly record struct Sql(string Sqlite, string SqlServer)
{
    /// <summary>One text for both engines.</summary>
    /// <param name="both">The statement.</param>
    public static implicit operator Sql(string both) => new(both, both);

    /// <summary>A statement and what goes on with it.</summary>
    /// <param name="begin">How it begins.</param>
    /// <param name="rest">How it goes on.</param>
    public static Sql operator +(Sql begin, Sql rest) => new(begin.Sqlite + rest.Sqlite, begin.SqlServer + rest.SqlServer);

    /// <summary>The first rows of a question that says its order; the engines agree on all of it but how this is asked for.</summary>
    /// <param name="ordered">The question up to and with its ORDER BY.</param>
    /// <param name="most">How many rows: a parameter with its mark, or a number.</param>
    public static Sql FirstRows(Sql ordered, string most) => new(
        $"{ordered.Sqlite}\nLIMIT {most}", $"{ordered.SqlServer}\nOFFSET 0 ROWS FETCH NEXT {most} ROWS ONLY");

    /// <summary>The text for the engine behind a connection.</summary>
    /// <param name="connection">The connection.</param>
    public string For(DbConnection connection) => connection is SqlConnection ? SqlServer : Sqlite;
}
