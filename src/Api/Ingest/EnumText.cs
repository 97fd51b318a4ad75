using System.Collections.Frozen;
using System.Text.Json;

namespace Washwear.Api.Ingest;

/// <summary>The words of an enumeration outside this program, such as stopped_by_person.</summary>
/// <typeparam name="T">The enumeration.</typeparam>
internal static class EnumText<T>
    where T : struct, Enum
{
    private static readonly FrozenDictionary<T, string> Words =
        Enum.GetValues<T>().ToFrozenDictionary(value => value, value => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString()));

    private static readonly FrozenDictionary<string, T> Values =
        Words.ToFrozenDictionary(pair => pair.Value, pair => pair.Key, StringComparer.OrdinalIgnoreCase);

    /// <summary>All words, for people.</summary>
    public static string List { get; } = string.Join(", ", Enum.GetValues<T>().Select(value => Words[value]));

    /// <summary>The word of a value.</summary>
    /// <param name="value">The value.</param>
    public static string Of(T value) => Words[value];

    /// <summary>The value of a word, without case.</summary>
    /// <param name="word">The word.</param>
    /// <param name="value">The value.</param>
    public static bool TryParse(string word, out T value) => Values.TryGetValue(word, out value);

    /// <summary>The value of a word that this program wrote itself.</summary>
    /// <param name="word">The word.</param>
    /// <exception cref="FormatException">It is none of the words.</exception>
    public static T Parse(string word) =>
        Values.TryGetValue(word, out T value) ? value : throw new FormatException($"'{word}' is not one of {List}.");
}
