using System.Text;
using System.Text.Json;

namespace Washwear.Fuzz;

/// <summary>One header of a request.</summary>
/// <param name="Name">Name.</param>
/// <param name="Value">Value.</param>
public sealed record Header(string Name, string Value);

/// <summary>One request: what is posted, and kept as a file if it breaks something.</summary>
/// <param name="Method">HTTP method.</param>
/// <param name="Path">Path with its query.</param>
/// <param name="Headers">Headers, those of the body among them.</param>
/// <param name="Body">Body; null: none.</param>
/// <param name="Operation">Method and route in the contract, such as "GET /v1/units/{unit}"; null: not in the contract.</param>
/// <param name="Chunked">Whether the length of the body is not told ahead.</param>
public sealed record FuzzCase(
    string Method, string Path, IReadOnlyList<Header> Headers, byte[]? Body, string? Operation = null, bool Chunked = false)
{
    private static readonly JsonSerializerOptions Written = new() { WriteIndented = true };

    /// <summary>Why it was kept; for people.</summary>
    public string? Found { get; init; }

    /// <summary>The body as text, for people; the bytes hold.</summary>
    public string? Readable => Body is null ? null : Encoding.Latin1.GetString(Body[..Math.Min(Body.Length, 400)]);

    /// <summary>Reads a case from its file.</summary>
    /// <param name="json">Content of the file.</param>
    public static FuzzCase Parse(string json) => JsonSerializer.Deserialize<FuzzCase>(json)!;

    /// <summary>The case as a file.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Written);

    /// <summary>The request.</summary>
    public HttpRequestMessage ToRequest()
    {
        var request = new HttpRequestMessage(new HttpMethod(Method), Path);
        if (Body is not null)
        {
            request.Content = new ByteArrayContent(Body);
            request.Headers.TransferEncodingChunked = Chunked ? true : null;
        }

        foreach (Header header in Headers)
        {
            string value = new([.. header.Value.Where(character => character is >= ' ' and <= '\u00ff' and not '\u007f')]);
            if (!request.Headers.TryAddWithoutValidation(header.Name, value))
            {
                request.Content?.Headers.TryAddWithoutValidation(header.Name, value);
            }
        }

        return request;
    }
}
