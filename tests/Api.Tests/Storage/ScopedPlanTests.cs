using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using Washwear.Api.Storage;
using Washwear.Api.Storage.Scopes;
using Xunit.Abstractions;

namespace Washwear.Api.Tests.Storage;

/// <summary>What the features ask is found by the same indexes within a scope: no question reads a whole table there, or sorts it, that does not
/// without a scope.</summary>
public sealed partial class ScopedPlanTests(ITestOutputHelper output) : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("washwear-plans-");

    [Theory]
    [InlineData("operators")]
    [InlineData("sites")]
    [InlineData("units")]
    public void A_scope_turns_no_search_into_a_scan_or_a_sort(string kind)
    {
        DataScope scope = kind switch
        {
            "operators" => DataScope.OfOperators([1]),
            "sites" => DataScope.OfSites([1]),
            _ => DataScope.OfUnits([1, 2, 3]),
        };
        // An index is named by the writer alone, which sees everything.
        string[] questions =
        [
            .. ProductStatements.All.Select(one => one.Text.Sqlite)
                .Where(text => Question().IsMatch(text) && !text.Contains("INDEXED BY", StringComparison.Ordinal)).Distinct(),
        ];
        using SqliteConnection whole = SqliteSchema.Migrated(_folder.FullName);
        string[][] without = [.. questions.Select(text => Plan(whole, text))];
        using SqliteCommand narrow = whole.CreateCommand();
        narrow.CommandText = new SqliteScopes(scope).Make(ScopedTables.All.Select(table => table.Name));
        narrow.ExecuteNonQuery();
        string[][] within = [.. questions.Select(text => Plan(whole, text))];

        string[] offenders =
        [
            .. questions.Select((text, i) => (Text: text, Before: without[i], After: within[i]))
                .Where(one => Scans(one.After) > Scans(one.Before) || Sorts(one.After) > Sorts(one.Before) || Copies(one.After) > Copies(one.Before))
                .Select(one => $"{one.Text}\n   before: {string.Join("; ", one.Before)}\n   after:  {string.Join("; ", one.After)}"),
        ];
        output.WriteLine($"{questions.Length} questions, {within.Zip(without).Count(pair => !pair.First.SequenceEqual(pair.Second))} with another plan");
        Assert.True(offenders.Length == 0, string.Join('\n', offenders));
        Assert.True(questions.Length > 100, $"only {questions.Length} questions");
    }

    [Fact]
    public void No_statement_names_the_tables_behind_the_views() =>
        Assert.Equal([], ProductStatements.All.Where(one => one.Text.Sqlite.Contains("main.", StringComparison.OrdinalIgnoreCase)).Select(one => one.Place));

    public void Dispose() => _folder.Delete(recursive: true);

    // The rows of rule_reach are few, and the views look at all of them once a question.
    private static int Scans(string[] plan) => plan.Count(line =>
        line.StartsWith("SCAN ", StringComparison.Ordinal) && !line.Contains("VIRTUAL TABLE", StringComparison.Ordinal) && line != "SCAN reached");

    private static int Sorts(string[] plan) => plan.Count(line => line.Contains("TEMP B-TREE", StringComparison.Ordinal));

    private static int Copies(string[] plan) => plan.Count(line =>
        line.StartsWith("MATERIALIZE", StringComparison.Ordinal) || line.StartsWith("CO-ROUTINE", StringComparison.Ordinal));

    private static string[] Plan(SqliteConnection connection, string text)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "EXPLAIN QUERY PLAN " + InList().Replace(text, "IN ($1)");
        foreach (string name in Parameter().Matches(text).Select(match => match.Value).Distinct())
        {
            command.Parameters.AddWithValue(name, 1);
        }

        using SqliteDataReader row = command.ExecuteReader();
        var lines = new List<string>();
        while (row.Read())
        {
            lines.Add(row.GetString(3));
        }

        return [.. lines];
    }

    [GeneratedRegex(@"(?<!@)@\w+")]
    private static partial Regex Parameter();

    [GeneratedRegex(@"\bIN (@\w+)")]
    private static partial Regex InList();

    [GeneratedRegex(@"^\s*(SELECT|WITH)\s(?!.*\b(INSERT|UPDATE|DELETE)\b)", RegexOptions.Singleline)]
    private static partial Regex Question();
}
