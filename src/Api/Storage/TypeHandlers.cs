using System.Data;
using System.Globalization;
using Dapper;

namespace Washwear.Api.Storage;

/// <summary>How column values become .NET values, in one place: instants are integers in the database, milliseconds UTC.</summary>
public static class TypeHandlers
{
    private static readonly Lock Gate = new();
    private static bool _registered;

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
            SqlMapper.AddTypeHandler(new InstantHandler());
            _registered = true;
        }
    }

    private sealed class InstantHandler : SqlMapper.TypeHandler<DateTimeOffset>
    {
        public override DateTimeOffset Parse(object value) =>
            DateTimeOffset.FromUnixTimeMilliseconds(Convert.ToInt64(value, CultureInfo.InvariantCulture));

        public override void SetValue(IDbDataParameter parameter, DateTimeOffset value)
        {
            parameter.DbType = DbType.Int64;
            parameter.Value = value.ToUnixTimeMilliseconds();
        }
    }
}
