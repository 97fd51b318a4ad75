using System.Data;
using Microsoft.Data.SqlClient;

namespace Washwear.Api.Storage;

/// <summary>Gives a parameter of SQL Server its value and its type. Without a type a NULL would go as a text, and each length of a text
/// as a type of its own, for which the server would keep a plan of its own.</summary>
internal static class SqlServerValue
{
    private const int LongestInRow = 4000;
    private const int LongestBytesInRow = 8000;
    private const int Any = -1;

    /// <summary>Sets the value; a NULL keeps the type of the value before it.</summary>
    /// <param name="parameter">The parameter.</param>
    /// <param name="value">The value; null is NULL.</param>
    /// <exception cref="ArgumentException">The value has a type that no column has.</exception>
    public static void Set(SqlParameter parameter, object? value)
    {
        switch (value)
        {
            case null or DBNull:
                parameter.Value = DBNull.Value;
                return;
            case string text:
                parameter.SqlDbType = SqlDbType.NVarChar;
                parameter.Size = text.Length <= LongestInRow ? LongestInRow : Any;
                break;
            case int or long:
                parameter.SqlDbType = SqlDbType.BigInt;
                break;
            case double:
                parameter.SqlDbType = SqlDbType.Float;
                break;
            case byte[] bytes:
                parameter.SqlDbType = SqlDbType.VarBinary;
                parameter.Size = bytes.Length <= LongestBytesInRow ? LongestBytesInRow : Any;
                break;
            default:
                throw new ArgumentException($"No column holds a {value.GetType().Name}.", nameof(value));
        }

        parameter.Value = value;
    }
}
