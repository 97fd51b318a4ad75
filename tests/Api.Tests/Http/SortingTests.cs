using Microsoft.AspNetCore.Http;
using Washwear.Api.Http;

namespace Washwear.Api.Tests.Http;

public sealed class SortingTests
{
    private static readonly SortColumn<(string Name, double? Age)>[] Columns = [new("name", row => row.Name), new("age", row => row.Age)];
    private static readonly (string Name, double? Age)[] Rows = [("b", 3), ("A", null), ("c", 1), ("d", 3)];

    [Theory]
    [InlineData("name", "A b c d")]
    [InlineData("-name", "d c b A")]
    [InlineData("age", "c b d A")]
    [InlineData("-age", "b d c A")]
    public void Rows_stand_by_a_column_those_alike_as_before_and_those_without_a_value_last(string sort, string names)
    {
        var seen = new List<string>();
        string? after = null;
        do
        {
            PageRequest page = new(3, after is null ? null : [after]);
            Assert.Null(Sorting.Read(Asking(sort), Columns, ref page));
            PageOf<(string Name, double? Age)> taken = Sorting.Take(Rows, Columns, page);
            seen.AddRange(taken.Items.Select(row => row.Name));
            after = taken.Next is null ? null : "3";
        }
        while (after is not null && seen.Count < 10);

        Assert.Equal(names, string.Join(' ', seen));
    }

    [Theory]
    [InlineData("size")]
    [InlineData("-")]
    [InlineData("Name")]
    [InlineData("--name")]
    public void A_column_that_is_not_there_is_refused_with_those_that_are(string sort)
    {
        PageRequest page = new(3, null);
        Assert.NotNull(Sorting.Read(Asking(sort), Columns, ref page));
    }

    [Fact]
    public void A_page_of_the_dashboard_never_has_more_than_100_rows()
    {
        PageRequest page = new(1000, null);
        Assert.Null(Sorting.Read(Asking(string.Empty), Columns, ref page));
        Assert.Equal(100, page.Limit);
        Assert.Null(page.SortBy);
    }

    private static HttpRequest Asking(string sort)
    {
        var context = new DefaultHttpContext();
        context.Request.QueryString = new QueryString("?sort=" + Uri.EscapeDataString(sort));
        return context.Request;
    }
}
