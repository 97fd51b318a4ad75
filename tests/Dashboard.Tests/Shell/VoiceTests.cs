using System.Reflection;
using System.Text.RegularExpressions;

namespace Washwear.Dashboard.Tests.Shell;

public sealed partial class VoiceTests
{
    [Fact]
    public void Dates_and_numbers_for_people_are_written_by_Text_alone()
    {
        string dashboard = Path.Combine(Root(), "src", "Dashboard");
        string[] offenders =
        [
            .. Directory.EnumerateFiles(dashboard, "*", SearchOption.AllDirectories)
                .Where(path => Path.GetExtension(path) is ".cs" or ".razor" && !path.Contains("/obj/", StringComparison.Ordinal) && !path.Contains("/bin/", StringComparison.Ordinal)
                    && Path.GetFileName(path) is not ("Text.cs" or "Text.Dates.cs" or "Text.Measures.cs"))
                .SelectMany(path => File.ReadLines(path).Where(line => ForPeople().IsMatch(line)).Select(line => Path.GetRelativePath(dashboard, path) + ": " + line.Trim())),
        ];
        Assert.True(offenders.Length == 0, "Write these by Text:\n" + string.Join('\n', offenders));
    }

    [Theory]
    [InlineData("day.ToString(\"d MMM yyyy\", CultureInfo.InvariantCulture)", true)]
    [InlineData("wall.ToString(\"HH:mm\", Culture)", true)]
    [InlineData("sum.ToString(\"N0\", CultureInfo.InvariantCulture)", true)]
    [InlineData("$\"{hours:#,0.##} h\"", true)]
    [InlineData("day.ToString(\"yyyy-MM-dd\", CultureInfo.InvariantCulture)", false)]
    [InlineData("at.ToString(\"O\", CultureInfo.InvariantCulture)", false)]
    public void The_look_finds_what_it_looks_for(string line, bool found) => Assert.Equal(found, ForPeople().IsMatch(line));

    private static string Root()
    {
        string folder = Path.GetDirectoryName(Assembly.GetExecutingAssembly().Location)!;
        while (!File.Exists(Path.Combine(folder, "Washwear.slnx")))
        {
            folder = Path.GetDirectoryName(folder)!;
        }

        return folder;
    }

    // Names of months and days, times of day, grouped digits and decimals; forms for programs (yyyy-MM-dd, O, R) are none.
    [GeneratedRegex("""ToString\("[^"]*(?:MMM|ddd|(?<!T')HH:mm|N\d|#,|tt)[^"]*"|\{[^{}"]+:(?:#,|N\d|[^{}"]*MMM|[^{}"]*ddd)[^{}]*\}""")]
    private static partial Regex ForPeople();
}
