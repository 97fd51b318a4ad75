namespace Washwear.Dashboard.Shell;

public static partial class Text
{
    private static bool WritesNounsSmall => ReaderPreferences.Current.Language == ReaderPreferences.English;

    /// <summary>A registered name within a sentence, such as 'wash pump'. English writes it small; German writes nouns large, and nobody knows what kind
    /// of word a name begins with, so that it stays as it was registered.</summary>
    /// <param name="name">The name.</param>
    /// <returns>The name as it stands within a sentence.</returns>
    public static string Inside(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return WritesNounsSmall ? name.ToLowerInvariant() : name;
    }

    /// <summary>A registered clause within a sentence, such as 'turn the pump by hand': as <see cref="Inside"/>, of its first letter only, and not of an
    /// abbreviation's.</summary>
    /// <param name="clause">The clause.</param>
    /// <returns>The clause as it stands within a sentence.</returns>
    public static string ClauseInside(string clause)
    {
        ArgumentNullException.ThrowIfNull(clause);
        return WritesNounsSmall && clause.Length > 1 && char.IsUpper(clause[0]) && char.IsLower(clause[1]) ? char.ToLowerInvariant(clause[0]) + clause[1..] : clause;
    }

    /// <summary>A registered code within a sentence, such as 'weak flow' for weak_flow.</summary>
    /// <param name="code">The code.</param>
    /// <returns>Words with spaces; in English small.</returns>
    public static string CodeInside(string code)
    {
        ArgumentNullException.ThrowIfNull(code);
        return WritesNounsSmall ? Words(code).ToLowerInvariant() : code.Replace('_', ' ').Replace('-', ' ').Trim() is { Length: > 0 } words ? words : code;
    }

    /// <summary>What stands before and after a place of a text that takes more than words, such as links.</summary>
    /// <param name="text">The text, with the place once.</param>
    /// <param name="place">Name of the place.</param>
    /// <returns>Both sides.</returns>
    public static (string Before, string After) Around(string text, string place)
    {
        ArgumentNullException.ThrowIfNull(text);
        string[] sides = text.Split("{" + place + "}", 2);
        return (sides[0], sides[1]);
    }
}
