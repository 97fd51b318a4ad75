using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;
using Washwear.Dashboard.Account;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Texts;

/// <summary>Texts are there in every language, with the same places for values, and nowhere else in the folders that were put into languages.</summary>
public sealed partial class TextFileTests
{
    private static readonly Assembly Dashboard = typeof(Text).Assembly;

    // All files of texts, by what their names begin with; a folder that has one has its texts nowhere else.
    internal static readonly string[] Files =
    [
        .. Dashboard.GetManifestResourceNames().Where(name => name.StartsWith("texts/", StringComparison.Ordinal) && name.EndsWith(".en.json", StringComparison.Ordinal))
            .Select(name => name["texts/".Length..^".en.json".Length]).Order(StringComparer.Ordinal),
    ];

    // What is read by no person, or is the same in every language: names of typefaces, of months by language, of countries in their own one.
    private static readonly string[] Machinery =
    [
        "CalendarWords.cs", "ReadingCulture.cs", "DatePatterns.cs", "Text.Dates.cs", "ChartFonts.cs", "ChartImage.cs", "ChartStyle.cs", "PreferenceChoice.cs",
        "PageAssets.cs", "TextFile.cs", "UnitBinding.cs", "AssetEndpoints.cs", "Measure.cs", "Inks.cs", "ShareBar.razor",
    ];

    /// <summary>Somebody who reads German, on a page that is there in it.</summary>
    public static ReaderPreferences German { get; } = new PreferenceChoice(Culture: "de-AT", Language: "de").For([]);

    public static TheoryData<string, string> Others()
    {
        var data = new TheoryData<string, string>();
        foreach (string file in Files)
        {
            foreach (Choice language in ReaderPreferences.Languages.Where(language => language.Code != ReaderPreferences.English))
            {
                data.Add(file, language.Code);
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Others))]
    public void Each_language_has_the_same_texts_with_the_same_places_for_values(string file, string language)
    {
        SortedDictionary<string, string> english = Texts(file, ReaderPreferences.English);
        SortedDictionary<string, string> other = Texts(file, language);
        Assert.NotEmpty(english);
        Assert.Equal(english.Keys, other.Keys);
        foreach ((string key, string text) in english)
        {
            Assert.Equal(Places(text), Places(other[key]));
            Assert.False(string.IsNullOrWhiteSpace(other[key]), key);
        }
    }

    [Fact]
    public void The_texts_fit_their_types_and_everything_that_is_listed_has_its_words()
    {
        (Type Type, object File)[] typed =
        [
            .. Dashboard.GetTypes().SelectMany(type => type.GetProperties(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic))
                .Where(property => property.PropertyType.IsGenericType && property.PropertyType.GetGenericTypeDefinition() == typeof(TextFile<>))
                .Select(property => (property.PropertyType.GetGenericArguments()[0], property.GetValue(null)!)),
        ];
        Assert.Equal(Files.Length, typed.Length);
        var missing = new List<string>();
        foreach ((Type type, object file) in typed)
        {
            foreach (string language in ReaderPreferences.Languages.Select(one => one.Code))
            {
                object texts = file.GetType().GetMethod("In")!.Invoke(file, [language])!;
                missing.AddRange(NotListed(texts).Select(name => name + ", " + language));
            }
        }

        Assert.True(missing.Count == 0, string.Join('\n', missing));
    }

    [Fact]
    public void Every_choice_of_a_preference_has_words()
    {
        foreach (string language in ReaderPreferences.Languages.Select(one => one.Code))
        {
            AccountTexts account = AccountTexts.File.In(language);
            Assert.Equal(account.Fields.Keys, account.Usual.Keys);
            Assert.Equal(PreferenceChoice.None.Fields().Select(field => field.Field).Where(field => field != "time_zone"), account.Fields.Keys);
            foreach ((string field, IReadOnlyDictionary<string, string> choices) in account.Choices)
            {
                Assert.Equal(PreferenceWords.Codes(field)!, choices.Keys);
            }
        }
    }

    [Fact]
    public void No_text_stands_outside_of_the_files_of_words_in_a_folder_that_was_put_into_languages()
    {
        string dashboard = Path.Combine(Root(), "src", "Dashboard");
        var offenders = new List<string>();
        IEnumerable<string> folders = Directory.EnumerateDirectories(dashboard).Where(folder => Directory.EnumerateFiles(folder, "*.en.json").Any());
        foreach (string path in folders.SelectMany(folder => Directory.EnumerateFiles(folder)).Where(path => !Machinery.Contains(Path.GetFileName(path))))
        {
            string source = File.ReadAllText(path);
            string name = Path.GetRelativePath(dashboard, path);
            offenders.AddRange(
                Path.GetExtension(path) switch
                {
                    ".razor" => Shown(source).Select(text => $"{name}: '{text}'"),
                    ".cs" => Literal().Matches(Comment().Replace(source, string.Empty)).Select(match => match.Value).Where(IsProse).Select(text => $"{name}: {text}"),
                    _ => [],
                });
        }

        Assert.True(offenders.Count == 0, string.Join('\n', offenders));
    }

    [Theory]
    [InlineData("<p>Hello there</p>", "Hello there")]
    [InlineData("<p>@Name signed in</p>", "signed in")]
    [InlineData("<input aria-label=\"Your name\" />", "Your name")]
    [InlineData("<p>@(Is ? \"Yes please\" : Words.No)</p>", "Yes please")]
    [InlineData("@foreach (Role role in Roles)\n{\n  string id = \"for-\" + role;\n  Line[] lines = [.. Lines.Where(line => line.Role == role)];\n  <p>@id</p>\n}", null)]
    [InlineData("<p>@Words.Hello</p>@if (Is) {<text>@Words.Yes</text>}<a href=\"@Urls.People\">@Words.People</a> · <br />", null)]
    public void What_a_page_says_of_its_own_is_found(string source, string? text) => Assert.Equal(text, Shown(source).FirstOrDefault());

    [Fact]
    public void Durations_agree_with_their_number_in_each_language()
    {
        var now = new DateTimeOffset(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
        Assert.Equal("3 days 4 h ago", Text.Ago(now.AddHours(-76), now));
        using (ReaderPreferences.Use(German))
        {
            Assert.Equal("3 Tage 4 h", Text.Duration(76));
            Assert.Equal("vor 3 Tagen 4 h", Text.Ago(now.AddHours(-76), now));
            Assert.Equal("vor 1 Tag", Text.Ago(now.AddHours(-24), now));
            Assert.Equal("vor weniger als einer Minute", Text.Ago(now, now));
            Assert.Equal("in 12 min", Text.Ago(now.AddMinutes(12), now));
        }
    }

    // Members of enumerations without words, in the texts and in those nested in them.
    private static IEnumerable<string> NotListed(object texts)
    {
        foreach (PropertyInfo property in texts.GetType().GetProperties(BindingFlags.Instance | BindingFlags.Public))
        {
            object value = property.GetValue(texts)!;
            if (IsByEnum(property.PropertyType))
            {
                HashSet<string> told = [.. ((System.Collections.IEnumerable)value).Cast<object>().Select(pair => pair.GetType().GetProperty("Key")!.GetValue(pair)!.ToString()!)];
                foreach (string name in Enum.GetNames(property.PropertyType.GetGenericArguments()[0]).Where(name => !told.Contains(name)))
                {
                    yield return $"{texts.GetType().Name}.{property.Name}.{name}";
                }
            }
            else if (property.PropertyType.Name.EndsWith("Texts", StringComparison.Ordinal))
            {
                foreach (string name in NotListed(value))
                {
                    yield return name;
                }
            }
        }
    }

    private static bool IsByEnum(Type type) => type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IReadOnlyDictionary<,>) && type.GetGenericArguments()[0].IsEnum;

    // What a reader would see or hear that does not come from an expression: text between tags, and attributes that are read aloud.
    private static IEnumerable<string> Shown(string razor)
    {
        string markup = RazorComment().Replace(razor, string.Empty);
        int code = markup.IndexOf("\n@code", StringComparison.Ordinal);
        markup = code < 0 ? markup : markup[..code];
        IEnumerable<string> spoken = Spoken().Matches(markup).Select(match => match.Groups[1].Value);
        IEnumerable<string> quoted = InExpression().Matches(markup).SelectMany(match => Literal().Matches(match.Value)).Select(match => match.Value.Trim('"')).Where(IsProse);
        string text = Tag().Replace(markup, "\n");
        text = Expression().Replace(Statement().Replace(Directive().Replace(text, "\n"), "\n"), "\n");
        return spoken.Concat(quoted).Concat(text.Split('\n').Select(line => line.Trim(' ', '\t', '\r', '{', '}', '.', ',', '·')).Where(line => line.Any(char.IsLetter) && line is not ("else" or "Washwear" or "SVG" or "PNG" or "CSV")));
    }

    // Several ids in one attribute have a space between them too.
    private static bool IsProse(string literal) => literal.Any(char.IsLetter) && literal.Contains(' ', StringComparison.Ordinal)
        && !literal.Trim('"').Split(' ').All(word => word.Contains('-', StringComparison.Ordinal));

    private static IEnumerable<string> Places(string text) => Place().Matches(text).Select(match => match.Groups[1].Value).Distinct().Order(StringComparer.Ordinal);

    internal static SortedDictionary<string, string> Texts(string file, string language)
    {
        using Stream stream = typeof(Text).Assembly.GetManifestResourceStream($"texts/{file}.{language}.json")!;
        using JsonDocument document = JsonDocument.Parse(stream);
        var texts = new SortedDictionary<string, string>(StringComparer.Ordinal);
        Collect(document.RootElement, string.Empty, texts);
        return texts;
    }

    private static void Collect(JsonElement element, string path, SortedDictionary<string, string> into)
    {
        foreach (JsonProperty property in element.EnumerateObject())
        {
            if (property.Value.ValueKind == JsonValueKind.Object)
            {
                Collect(property.Value, path + property.Name + "/", into);
            }
            else
            {
                into.Add(path + property.Name, property.Value.GetString()!);
            }
        }
    }

    internal static string Root()
    {
        string folder = Path.GetDirectoryName(Assembly.GetExecutingAssembly().Location)!;
        while (!File.Exists(Path.Combine(folder, "Washwear.slnx")))
        {
            folder = Path.GetDirectoryName(folder)!;
        }

        return folder;
    }

    [GeneratedRegex(@"\{([a-z_]+)[}|]")]
    private static partial Regex Place();

    [GeneratedRegex(@"@\*.*?\*@", RegexOptions.Singleline)]
    private static partial Regex RazorComment();

    [GeneratedRegex(@"^\s*//.*$", RegexOptions.Multiline)]
    private static partial Regex Comment();

    [GeneratedRegex(@"<(?:[^<>""]|""[^""]*""|""@\((?:[^()]|\([^()]*\))*\)"")*>")]
    private static partial Regex Tag();

    [GeneratedRegex(@"^\s*@(?:namespace|implements|using|inherits)\b.*$|@?\b(?:else\s+)?(?:if|foreach|for|switch)\s*\((?:[^()]|\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\))*\)", RegexOptions.Multiline)]
    private static partial Regex Directive();

    // A variable within the code of a page.
    [GeneratedRegex(@"^\s*[A-Za-z_][\w.<>?]*(?:\[\])?\s+\w+\s*=\s.*;\s*$", RegexOptions.Multiline)]
    private static partial Regex Statement();

    [GeneratedRegex(@"@\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)|@[A-Za-z_][\w.]*(?:\[[^\]]*\])*(?:\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\))?(?:\.\w+(?:\((?:[^()]|\([^()]*\))*\))?)*")]
    private static partial Regex Expression();

    [GeneratedRegex(@"@\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)")]
    private static partial Regex InExpression();

    [GeneratedRegex(@"""(?:[^""\\]|\\.)*""")]
    private static partial Regex Literal();

    [GeneratedRegex(@"(?:aria-label|title|alt|placeholder|data-label|Title)=""([^""@]*[A-Za-z][^""@]*)""")]
    private static partial Regex Spoken();
}
