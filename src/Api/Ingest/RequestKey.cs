using Microsoft.Extensions.Primitives;
using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>The key by which a whole request can be sent again, as the header Idempotency-Key carries it
/// (draft-ietf-httpapi-idempotency-key-header).</summary>
/// <param name="KeyId">Number of the API key that sends the request.</param>
/// <param name="Text">The header's value, without quotes.</param>
internal readonly record struct RequestKey(long KeyId, string Text)
{
    /// <summary>Name of the header.</summary>
    public const string Header = "Idempotency-Key";

    /// <summary>Header of an answer that was given before.</summary>
    public const string ReplayedHeader = "Idempotency-Replayed";

    private const int Longest = 255;

    /// <summary>Reads the header: a string in quotes, as the draft has it, or the bare characters, as many send it.</summary>
    /// <param name="header">The header.</param>
    /// <param name="sender">Number of the API key that sends the request; 0: none, a person does.</param>
    /// <param name="key">The key; null: there is none.</param>
    /// <returns>What is wrong with it; null: nothing.</returns>
    public static ProblemResult? Read(StringValues header, long sender, out string? key)
    {
        key = null;
        if (header.Count == 0)
        {
            return null;
        }

        // Answers are kept by API key; people have none, and one must not be given the answer of another.
        if (sender == 0)
        {
            return Problems.Invalid(
                Header, "sender", "Only requests with an API key can be sent again under a key of their own.", "Send it with an API key, or leave the header out.");
        }

        key = header.Count == 1 ? Unquoted(header[0]!.Trim()) : null;
        return key is { Length: > 0 and <= Longest }
            ? null
            : Problems.Invalid(
                Header, "key", $"The header is not one key of 1 to {Longest} printable ASCII characters.", "Send a random UUID, one for each request.");
    }

    // A structured string (RFC 9651, section 3.3.3): quotes and backslashes within it stand behind a backslash.
    private static string? Unquoted(string value)
    {
        if (value.Length == 0 || value.Any(letter => letter is < ' ' or > '~'))
        {
            return null;
        }

        if (value[0] != '"')
        {
            return value;
        }

        var text = new System.Text.StringBuilder(value.Length);
        for (int index = 1; index < value.Length; index++)
        {
            if (value[index] == '"')
            {
                return index == value.Length - 1 ? text.ToString() : null;
            }

            if (value[index] == '\\' && (++index == value.Length || value[index] is not ('"' or '\\')))
            {
                return null;
            }

            text.Append(value[index]);
        }

        return null;
    }
}
