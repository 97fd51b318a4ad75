using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Components;

namespace Washwear.Dashboard.Shell;

/// <summary>The texts of a folder in each language: files of JSON beside its pages, read into one type, so that a text that is missing is found when
/// the program is built and tested, not when somebody asks for it.</summary>
/// <typeparam name="T">Has a property for each text.</typeparam>
public sealed class TextFile<T>
    where T : class
{
    private static readonly JsonSerializerOptions Strict = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        AllowDuplicateProperties = false,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower, allowIntegerValues: false) },
    };

    private readonly Dictionary<string, T> _byLanguage;

    /// <summary>Reads the files.</summary>
    /// <param name="name">What their names begin with, such as SignIn of SignIn.en.json.</param>
    public TextFile(string name) =>
        _byLanguage = ReaderPreferences.Languages.ToDictionary(language => language.Code, language => Read(name, language.Code));

    /// <summary>The texts in the language of the present reader.</summary>
    public T Now => _byLanguage[ReaderPreferences.Current.Language];

    /// <summary>The texts in a language.</summary>
    /// <param name="language">Code of one of <see cref="ReaderPreferences.Languages"/>.</param>
    /// <returns>The texts.</returns>
    public T In(string language) => _byLanguage[language];

    private static T Read(string name, string language)
    {
        string file = $"texts/{name}.{language}.json";
        using Stream stream = typeof(TextFile<T>).Assembly.GetManifestResourceStream(file)
            ?? throw new InvalidOperationException($"There is no {file} in the assembly.");
        return JsonSerializer.Deserialize<T>(stream, Strict)!;
    }
}

/// <summary>A text that depends on a number, by the plural rules of Unicode CLDR. English and German have two forms: one for the whole number 1, one for
/// all others; a language with more brings a library for them along.</summary>
/// <param name="One">For 1.</param>
/// <param name="Other">For all others; {count} stands for the number.</param>
public sealed record PluralText(string One, string Other)
{
    /// <summary>The text for a number.</summary>
    /// <param name="count">The number.</param>
    /// <param name="values">Names and values of what else stands in braces.</param>
    /// <returns>The text with the number in the reader's way.</returns>
    public string For(int count, params (string Name, string Value)[] values) => Fill.In(count == 1 ? One : Other, [("count", Text.Count(count)), .. values]);
}

/// <summary>Puts values into texts. Beside the place of a number, such as {days}, a text may hold what depends on it: {days|day|days} is 'day' where the
/// number reads 1 and 'days' elsewhere, so that a sentence with several numbers agrees with each of them. Both forms may hold the number itself.</summary>
public static class Fill
{
    private const string One = "1";

    /// <summary>Puts each value where its name stands in braces, and chooses what depends on it.</summary>
    /// <param name="text">The text.</param>
    /// <param name="values">Names and values.</param>
    /// <returns>The text.</returns>
    public static string In(string text, params (string Name, string Value)[] values)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(values);
        foreach ((string name, string value) in values)
        {
            text = Chosen(text.Replace("{" + name + "}", value, StringComparison.Ordinal), "{" + name + "|", value);
        }

        return text;
    }

    private static string Chosen(string text, string start, string value)
    {
        while (text.IndexOf(start, StringComparison.Ordinal) is >= 0 and int at)
        {
            int one = at + start.Length;
            int other = text.IndexOf('|', one) + 1;
            int end = text.IndexOf('}', other);
            text = text[..at] + (value == One ? text[one..(other - 1)] : text[other..end]) + text[(end + 1)..];
        }

        return text;
    }

    /// <summary>Puts links and other elements where their names stand in braces: each language has them in its own place of the sentence.</summary>
    /// <param name="text">The text.</param>
    /// <param name="values">Names and elements.</param>
    /// <returns>The text with its elements.</returns>
    public static RenderFragment With(string text, params (string Name, RenderFragment Value)[] values)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(values);
        return builder =>
        {
            // Pages are written once and never compared with what they were: numbers of the parts need not differ.
            string rest = text;
            while (values.Select(value => (At: rest.IndexOf("{" + value.Name + "}", StringComparison.Ordinal), value.Name, value.Value))
                .Where(found => found.At >= 0).OrderBy(found => found.At).FirstOrDefault() is { Value: not null } next)
            {
                builder.AddContent(0, rest[..next.At]);
                builder.AddContent(1, next.Value);
                rest = rest[(next.At + next.Name.Length + 2)..];
            }

            builder.AddContent(2, rest);
        };
    }
}
