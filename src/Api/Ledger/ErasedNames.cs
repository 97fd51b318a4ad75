using System.Data.Common;
using System.Security.Cryptography;
using System.Text;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>A name that was replaced; it is known again by a digest.</summary>
internal sealed class ErasedName
{
    /// <summary>What stands in its place.</summary>
    public string Pseudonym { get; init; } = string.Empty;

    /// <summary>Salt of the digest, random.</summary>
    public byte[] Salt { get; init; } = [];

    /// <summary>HMAC-SHA256 of the name, in lower case and with single spaces, with the salt as its key.</summary>
    public byte[] Digest { get; init; } = [];

    /// <summary>Takes a name in.</summary>
    /// <param name="name">The name.</param>
    /// <param name="pseudonym">What stands in its place.</param>
    public static ErasedName Of(string name, string pseudonym)
    {
        byte[] salt = RandomNumberGenerator.GetBytes(32);
        return new ErasedName { Pseudonym = pseudonym, Salt = salt, Digest = DigestOf(name, salt) };
    }

    /// <summary>Whether it is this name.</summary>
    /// <param name="name">The name.</param>
    public bool Is(string name) => DigestOf(name, Salt).AsSpan().SequenceEqual(Digest);

    private static byte[] DigestOf(string name, byte[] salt) => HMACSHA256.HashData(
        salt, Encoding.UTF8.GetBytes(string.Join(' ', name.ToUpperInvariant().ToLowerInvariant().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))));
}

/// <summary>Knows sources that were renamed because they named a person, so that what such a source sends again is found under its new name.
/// Read within one transaction. Not safe for concurrent use.</summary>
internal sealed class ErasedNames
{
    private const string Select = "SELECT e.pseudonym, e.salt, e.name_digest FROM erasure e";

    private readonly List<ErasedName> _names = [];
    private readonly Dictionary<string, string> _sources = new(StringComparer.Ordinal);

    /// <summary>Reads them; nearly always there are none.</summary>
    /// <param name="session">The transaction.</param>
    public ErasedNames(WriteSession session)
    {
        using var select = new Statement(session, Select);
        using DbDataReader row = select.Query();
        while (row.Read())
        {
            _names.Add(new ErasedName { Pseudonym = row.GetString(0), Salt = (byte[])row[1], Digest = (byte[])row[2] });
        }
    }

    /// <summary>The name of a source now.</summary>
    /// <param name="source">The name that it gives.</param>
    public string Source(string source)
    {
        if (_names.Count == 0)
        {
            return source;
        }

        if (!_sources.TryGetValue(source, out string? now))
        {
            now = _names.Find(name => name.Is(source))?.Pseudonym ?? source;
            _sources.Add(source, now);
        }

        return now;
    }
}
