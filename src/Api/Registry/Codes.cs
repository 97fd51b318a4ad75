namespace Washwear.Api.Registry;

/// <summary>The user's own codes: 1 to 64 printable characters, compared without case.</summary>
public static class Codes
{
    /// <summary>Most characters that a code may have.</summary>
    public const int MaxLength = 64;

    /// <summary>The form in which codes are compared in the database.</summary>
    /// <param name="code">The code as given.</param>
    /// <remarks>Raised first, so that what a dictionary ignoring case holds for equal is equal here as well.</remarks>
    public static string Key(string code) => code.ToUpperInvariant().ToLowerInvariant();

    /// <summary>The form in which a code is compared, if there is one.</summary>
    /// <param name="code">The code as given.</param>
    public static string? KeyOf(string? code) => code is null ? null : Key(code);

    /// <summary>Whether a text can be a code: no control characters, no space at either end.</summary>
    /// <param name="code">The text.</param>
    public static bool IsValid(string code) =>
        code.Length is > 0 and <= MaxLength
        && !char.IsWhiteSpace(code[0])
        && !char.IsWhiteSpace(code[^1])
        && code.EnumerateRunes().All(IsPrintable);

    private static bool IsPrintable(System.Text.Rune rune) => System.Text.Rune.GetUnicodeCategory(rune) is not (
        System.Globalization.UnicodeCategory.Control
        or System.Globalization.UnicodeCategory.Format
        or System.Globalization.UnicodeCategory.Surrogate
        or System.Globalization.UnicodeCategory.PrivateUse
        or System.Globalization.UnicodeCategory.OtherNotAssigned
        or System.Globalization.UnicodeCategory.LineSeparator
        or System.Globalization.UnicodeCategory.ParagraphSeparator);
}
