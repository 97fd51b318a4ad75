using System.Collections.Frozen;

namespace Washwear.Api.Import.Guessing;

/// <summary>How well a heading names a field.</summary>
internal static class HeadingWords
{
    /// <summary>The heading is one of the field's words.</summary>
    public const int Exact = 100;

    /// <summary>One of the field's words is in it, among others.</summary>
    public const int Part = 60;

    /// <summary>One of the field's words but for a letter.</summary>
    public const int Near = 40;

    private static readonly FrozenSet<string> All = ImportKinds.All.SelectMany(kind => kind.Fields).SelectMany(field => field.Words.Append(Headings.Words(field.Name)))
        .Select(Headings.Compact).ToFrozenSet(StringComparer.Ordinal);

    /// <summary>Whether any kind has a field with this heading.</summary>
    /// <param name="heading">The heading.</param>
    public static bool IsKnown(string heading) => All.Contains(Headings.Compact(Headings.Words(heading)));

    /// <summary>How well a heading names a field, 0 to 100.</summary>
    /// <param name="heading">The heading.</param>
    /// <param name="field">The field.</param>
    public static int Score(string heading, ImportField field)
    {
        string words = Headings.Words(heading);
        string compact = Headings.Compact(words);
        if (compact.Length == 0)
        {
            return 0;
        }

        // The field's own name is what templates head their columns with.
        if (string.Equals(heading.Trim(), field.Name, StringComparison.OrdinalIgnoreCase))
        {
            return Exact + 5;
        }

        if (compact == Headings.Compact(field.Name) || field.Words.Any(word => Headings.Compact(word) == compact))
        {
            return Exact;
        }

        string padded = " " + words + " ";
        int longest = field.Words.Where(word => word.Length >= 4 && padded.Contains(" " + word + " ", StringComparison.Ordinal)).Select(word => word.Length).DefaultIfEmpty().Max();
        return longest > 0 ? Part + Math.Min(30, longest)
            : field.Words.Any(word => Headings.DifferByOne(Headings.Compact(word), compact)) ? Near
            : 0;
    }
}
