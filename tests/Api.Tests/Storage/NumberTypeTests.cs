using System.Data;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Tests.Storage;

/// <summary>SQL Server gives a count as an INT, a column as a BIGINT; the same row type takes both.</summary>
public sealed class NumberTypeTests
{
    [Theory]
    [InlineData(typeof(int))]
    [InlineData(typeof(long))]
    public void A_row_takes_whole_numbers_of_either_width(Type width)
    {
        TypeHandlers.RegisterNumbers();
        using var table = new DataTable();
        table.Columns.Add("Washes", width);
        table.Columns.Add("Left", width);
        table.Columns.Add("Hours", width);
        table.Rows.Add(7, DBNull.Value, 3);

        Row row = Assert.Single(table.CreateDataReader().Parse<Row>());

        Assert.Equal(new Row(7, null, 3.0), row);
    }

    private sealed record Row(long Washes, long? Left, double Hours);
}
