using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace Washwear.Api.Security;

/// <summary>Random secrets: 256 bits, shown once, stored as their SHA-256 only.</summary>
public static class Secret
{
    /// <summary>What the keys that we make begin with, so that a scanner can find a leaked one.</summary>
    public const string KeyPrefix = "ww_";

    private const int Bytes = 32;

    /// <summary>Makes a secret.</summary>
    /// <param name="prefix">What it begins with.</param>
    public static string Create(string prefix) => prefix + Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));

    /// <summary>SHA-256 of a secret. A salt or a slow hash would add nothing to 256 random bits.</summary>
    /// <param name="secret">The secret.</param>
    public static byte[] Hash(string secret) => SHA256.HashData(Encoding.UTF8.GetBytes(secret));

    /// <summary>Compares hashes in constant time.</summary>
    /// <param name="one">A hash.</param>
    /// <param name="other">Another.</param>
    public static bool SameHash(byte[] one, byte[] other) => CryptographicOperations.FixedTimeEquals(one, other);
}
