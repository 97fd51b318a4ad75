using System.Text;

namespace Washwear.Load.Traffic;

/// <summary>A request.</summary>
/// <param name="Route">The route, as figures name it.</param>
/// <param name="Method">Its method.</param>
/// <param name="Path">Path and query.</param>
/// <param name="Secret">The key that asks.</param>
internal sealed record Call(string Route, HttpMethod Method, string Path, string Secret)
{
    private static readonly int[] Ok = [200];

    /// <summary>The body; null: none.</summary>
    public byte[]? Body { get; init; }

    /// <summary>Media type of the body.</summary>
    public string? MediaType { get; init; }

    /// <summary>Idempotency-Key; null: none.</summary>
    public string? RequestKey { get; init; }

    /// <summary>Statuses that are no error.</summary>
    public IReadOnlyList<int> Expected { get; init; } = Ok;

    /// <summary>Whether an answer is no error.</summary>
    /// <param name="answer">The answer.</param>
    public bool Expects(Answer answer) => Expected.Contains(answer.Status);

    /// <summary>A question.</summary>
    /// <param name="route">The route, as figures name it.</param>
    /// <param name="path">Path and query.</param>
    /// <param name="secret">The key that asks.</param>
    public static Call Get(string route, string path, string secret) => new("GET " + route, HttpMethod.Get, path, secret);
}

/// <summary>What came of a request.</summary>
/// <param name="Status">Status; 0: no answer.</param>
/// <param name="Body">Body of the answer, or why there is none.</param>
/// <param name="Milliseconds">From the moment at which it was due to the last byte of the answer.</param>
/// <param name="RetryAfter">Whether the answer says when to come again.</param>
/// <param name="Replayed">Whether it says that it was given before.</param>
internal sealed record Answer(int Status, byte[] Body, double Milliseconds, bool RetryAfter, bool Replayed)
{
    private const int LongestTold = 400;

    /// <summary>Status and the begin of the body, for people.</summary>
    public string Said => $"{Status} {Text[..Math.Min(Text.Length, LongestTold)]}";

    /// <summary>The body as text.</summary>
    public string Text => Encoding.UTF8.GetString(Body);
}
