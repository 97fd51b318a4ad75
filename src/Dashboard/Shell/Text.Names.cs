namespace Washwear.Dashboard.Shell;

public static partial class Text
{
    /// <summary>A registered code as it stands within a sentence, such as 'weak flow' for weak_flow: small in English; a language that writes all its
    /// nouns with a capital leaves letters as they were registered, since nobody knows what kind of word they make.</summary>
    /// <param name="code">The code.</param>
    /// <returns>Words with spaces between them.</returns>
    public static string CodeInside(string code)
    {
        ArgumentNullException.ThrowIfNull(code);
        string words = code.Replace('_', ' ').Replace('-', ' ').Trim();
        return words.Length == 0 ? code : Inside(words);
    }
}
