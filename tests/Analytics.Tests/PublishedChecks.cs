using System.Globalization;
using System.Text.Json;

namespace Washwear.Analytics.Tests;

/// <summary>
/// One entry of Data/published/expected.json: inputs, the values that a method must give on them, and the tolerance that the source's
/// digits allow.
/// </summary>
public sealed record PublishedCheck(
    string Id, string DataFile, JsonElement Inputs, JsonElement Expected, string Source, double ToleranceRel)
{
    /// <summary>The rows of the data file that the check names.</summary>
    public CsvRows Rows => PublishedChecks.Csv(DataFile);

    /// <summary>Expected value at a path such as <c>Value("shape", "estimate")</c>.</summary>
    public JsonElement Value(params string[] path) => path.Aggregate(Expected, (at, name) => at.GetProperty(name));

    /// <summary>Fails unless <paramref name="actual"/> agrees with the expected value at the path; JSON null asks for null.</summary>
    public void AssertClose(double? actual, params string[] path) => AssertClose(Value(path), actual, string.Join('.', path));

    /// <summary>Fails unless all of <paramref name="actual"/> agree, in order and in number, with the expected array at the path.</summary>
    public void AssertAllClose(IEnumerable<double?> actual, params string[] path)
    {
        JsonElement[] expected = [.. Value(path).EnumerateArray()];
        double?[] got = [.. actual];
        Assert.True(expected.Length == got.Length, $"{Id} {string.Join('.', path)}: {expected.Length} values expected, {got.Length} given");
        for (int i = 0; i < got.Length; i++)
        {
            AssertClose(expected[i], got[i], $"{string.Join('.', path)}[{i}]");
        }
    }

    /// <inheritdoc cref="AssertAllClose(IEnumerable{double?}, string[])"/>
    public void AssertAllClose(IEnumerable<double> actual, params string[] path) => AssertAllClose(actual.Select(x => (double?)x), path);

    /// <summary>Fails unless <paramref name="actual"/> agrees with the expected one to the check's tolerance (1e-9 at 0).</summary>
    public void AssertClose(JsonElement expected, double? actual, string what)
    {
        if (expected.ValueKind == JsonValueKind.Null)
        {
            Assert.True(actual is null, $"{Id} {what}: undefined (null) expected, {actual} given");
            return;
        }

        double wanted = expected.GetDouble();
        double allowed = wanted == 0 ? 1e-9 : ToleranceRel * Math.Abs(wanted);
        Assert.True(
            actual is { } got && Math.Abs(got - wanted) <= allowed,
            string.Create(
                CultureInfo.InvariantCulture, $"{Id} {what}: expected {wanted:R} ± {allowed:R}, given {actual:R} (source: {Source})"));
    }
}

/// <summary>Reads the published data sets that are copied beside the test assembly.</summary>
public static class PublishedChecks
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Data", "published");

    private static readonly Lazy<IReadOnlyDictionary<string, PublishedCheck>> All = new(Load);

    /// <summary>The check with this id; throws when there is none, so that a test cannot pass for want of data.</summary>
    public static PublishedCheck Get(string id) =>
        All.Value.TryGetValue(id, out PublishedCheck? check)
            ? check
            : throw new KeyNotFoundException($"expected.json has no check '{id}'.");

    /// <summary>Ids of all checks that start with <paramref name="prefix"/>, for theories and for counting what is covered.</summary>
    public static IReadOnlyList<string> Ids(string prefix) =>
        [.. All.Value.Keys.Where(id => id.StartsWith(prefix, StringComparison.Ordinal)).Order(StringComparer.Ordinal)];

    /// <summary>A CSV file of Data/published: first line names the columns, no quoted fields.</summary>
    public static CsvRows Csv(string fileName) => CsvRows.Parse(fileName, File.ReadAllLines(Path.Combine(Folder, fileName)));

    private static Dictionary<string, PublishedCheck> Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(Folder, "expected.json")));
        return document.RootElement.GetProperty("checks").EnumerateArray().Select(Read).ToDictionary(c => c.Id);
    }

    private static PublishedCheck Read(JsonElement check) => new(
        check.GetProperty("id").GetString()!,
        check.GetProperty("data_file").GetString()!,
        check.GetProperty("inputs").Clone(),
        check.GetProperty("expected").Clone(),
        check.GetProperty("source").GetString()!,
        check.GetProperty("tolerance_rel").GetDouble());
}

/// <summary>Rows of a small CSV file by column name. Empty cells and NA are missing.</summary>
public sealed class CsvRows
{
    private readonly string _name;
    private readonly Dictionary<string, int> _columns;
    private readonly string[][] _cells;

    private CsvRows(string name, Dictionary<string, int> columns, string[][] cells)
    {
        _name = name;
        _columns = columns;
        _cells = cells;
    }

    public int Count => _cells.Length;

    public static CsvRows Parse(string name, IReadOnlyList<string> lines)
    {
        string[][] cells = [.. lines.Where(l => l.Length > 0 && l[0] != '#').Select(l => l.Split(','))];
        if (lines.Any(l => l.Contains('"', StringComparison.Ordinal)) || cells.Any(c => c.Length != cells[0].Length))
        {
            throw new FormatException($"{name}: quoted fields or ragged rows are not expected in the test data.");
        }

        return new CsvRows(name, cells[0].Select((c, i) => (c, i)).ToDictionary(p => p.c, p => p.i), cells[1..]);
    }

    /// <summary>All cells of a column, as text.</summary>
    public string[] Text(string column) => _columns.TryGetValue(column, out int at)
        ? [.. _cells.Select(row => row[at])]
        : throw new KeyNotFoundException($"{_name} has no column '{column}'.");

    /// <summary>All cells of a column as numbers; throws where one is missing.</summary>
    public double[] Numbers(string column) =>
        [.. NumbersOrMissing(column).Select(x => x ?? throw new FormatException($"{_name}: a cell of '{column}' is empty."))];

    /// <summary>All cells of a column as numbers, null where the cell is empty or NA.</summary>
    public double?[] NumbersOrMissing(string column) =>
        [.. Text(column).Select(t => t is "" or "NA" ? (double?)null : double.Parse(t, CultureInfo.InvariantCulture))];
}
