using System.Data;
using System.Globalization;
using Dapper;

namespace Washwear.Api.Storage;

/// <summary>How column values become .NET values, in one place: instants are integers in the database, milliseconds UTC.</summary>
public static class TypeHandlers
{
    private static readonly Lock Gate = new();
    private static bool _registered;
    private static bool _registeredNumbers;

    /// <summary>Tells Dapper once per process.</summary>
    public static void Register()
    {
        lock (Gate)
        {
            if (_registered)
            {
                return;
            }

            SqlMapper.RemoveTypeMap(typeof(DateTimeOffset));
            SqlMapper.RemoveTypeMap(typeof(DateTimeOffset?));
            SqlMapper.AddTypeHandler(typeof(DateTimeOffset), new InstantHandler());
            _registered = true;
        }
    }

    /// <summary>Tells Dapper once per process that a number may come in any of the engine's types. SQLite knows one whole number and one
    /// real; SQL Server gives count(*) and CASE an INT where a column is a BIGINT, and a row's type takes either.</summary>
    public static void RegisterNumbers()
    {
        lock (Gate)
        {
            if (_registeredNumbers)
            {
                return;
            }

            SqlMapper.AddTypeHandler(new WholeNumberHandler());
            SqlMapper.AddTypeHandler(new RealNumberHandler());
            _registeredNumbers = true;
        }
    }

    private sealed class WholeNumberHandler : SqlMapper.TypeHandler<long>
    {
        public override long Parse(object value) => Convert.ToInt64(value, CultureInfo.InvariantCulture);

        public override void SetValue(IDbDataParameter parameter, long value)
        {
            parameter.DbType = DbType.Int64;
            parameter.Value = value;
        }
    }

    private sealed class RealNumberHandler : SqlMapper.TypeHandler<double>
    {
        public override double Parse(object value) => Convert.ToDouble(value, CultureInfo.InvariantCulture);

        public override void SetValue(IDbDataParameter parameter, double value)
        {
            parameter.DbType = DbType.Double;
            parameter.Value = value;
        }
    }

    private sealed class InstantHandler : SqlMapper.ITypeHandler
    {
        public object Parse(Type destinationType, object value) =>
            DateTimeOffset.FromUnixTimeMilliseconds(Convert.ToInt64(value, CultureInfo.InvariantCulture));

        // One that is not known is a number too; without a type SQL Server would be told of a text.
        public void SetValue(IDbDataParameter parameter, object value)
        {
            parameter.DbType = DbType.Int64;
            parameter.Value = value is DateTimeOffset at ? at.ToUnixTimeMilliseconds() : DBNull.Value;
        }
    }
}
