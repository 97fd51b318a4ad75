using Washwear.Dashboard.Search;

namespace Washwear.Api.Search;

/// <summary>A text by which something is found.</summary>
/// <param name="By">What it is.</param>
/// <param name="Text">The text as given.</param>
/// <param name="IsCode">Whether it is a code, in which spaces and dashes make no difference and which may be meant exactly.</param>
internal sealed record SearchField(SearchBy By, string Text, bool IsCode)
{
    /// <summary>The text as it is compared.</summary>
    public string Folded { get; } = Spelling.Fold(Text);

    /// <summary>Its letters and digits; for codes only.</summary>
    public string Compact => field ??= Spelling.Compact(Folded);

    /// <summary>How the text matches; null: not.</summary>
    /// <param name="asked">What is searched for.</param>
    public SearchMatch? Matches(SearchTerms asked)
    {
        int at = Folded.IndexOf(asked.Folded, StringComparison.Ordinal);
        if (at == 0)
        {
            return Folded.Length == asked.Folded.Length ? SearchMatch.Exact : SearchMatch.Begins;
        }

        if (IsCode && asked.Compact.Length > 0)
        {
            int compactAt = Compact.IndexOf(asked.Compact, StringComparison.Ordinal);
            if (compactAt == 0)
            {
                return Compact.Length == asked.Compact.Length ? SearchMatch.Exact : SearchMatch.Begins;
            }

            return at > 0 && !char.IsLetterOrDigit(Folded[at - 1]) ? SearchMatch.WordBegins : at > 0 || compactAt > 0 ? SearchMatch.Contains : null;
        }

        return at < 0 ? null : SearchEntry.HasWord(Folded, asked.Folded) ? SearchMatch.WordBegins : SearchMatch.Contains;
    }
}

/// <summary>Something that can be found.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Code">Its code.</param>
/// <param name="Name">What it is called, or where it stands.</param>
/// <param name="Of">What it is in the registry.</param>
/// <param name="Fields">The texts by which it is found, codes first.</param>
/// <param name="Around">Folded texts of where it stands: they help several words to find it, and find nothing by themselves.</param>
internal sealed record SearchEntry(SearchKind Kind, string Code, string Name, object Of, IReadOnlyList<SearchField> Fields, string Around)
{
    /// <summary>How the thing matches, and by which text; null: not.</summary>
    /// <param name="asked">What is searched for.</param>
    public (SearchMatch How, SearchField Field)? Matches(SearchTerms asked)
    {
        (SearchMatch How, SearchField Field)? best = null;
        foreach (SearchField field in Fields)
        {
            if (field.Matches(asked) is { } how && (best is null || how < best.Value.How))
            {
                best = (how, field);
            }
        }

        return best ?? (asked.Words.Length > 1 ? ByWords(asked) : null);
    }

    private (SearchMatch How, SearchField Field)? ByWords(SearchTerms asked)
    {
        SearchField? own = null;
        foreach (string word in asked.Words)
        {
            SearchField? found = Fields.FirstOrDefault(field => HasWord(field.Folded, word));
            if (found is null && !HasWord(Around, word))
            {
                return null;
            }

            own ??= found;
        }

        return own is null ? null : (SearchMatch.EachWord, own);
    }

    // Where several words are given, each has to begin one: somewhere within a serial number nearly every number is found.
    internal static bool HasWord(string text, string asked)
    {
        for (int at = text.IndexOf(asked, StringComparison.Ordinal); at >= 0; at = text.IndexOf(asked, at + 1, StringComparison.Ordinal))
        {
            if (at == 0 || !char.IsLetterOrDigit(text[at - 1]))
            {
                return true;
            }
        }

        return false;
    }
}

/// <summary>What is searched for, as it is compared.</summary>
/// <param name="Folded">The whole, folded.</param>
internal sealed record SearchTerms(string Folded)
{
    /// <summary>Its letters and digits.</summary>
    public string Compact { get; } = Spelling.Compact(Folded);

    /// <summary>Its words.</summary>
    public string[] Words { get; } = Folded.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    /// <summary>The terms of a query.</summary>
    /// <param name="query">The query.</param>
    public static SearchTerms Of(string query) => new(Spelling.Fold(query.Trim()));
}
