using System.Buffers.Binary;
using System.Security.Cryptography;

namespace Washwear.Api.Storage.Archive;

/// <summary>Counts rows and adds up the SHA-256 of each, modulo 2^256: two tables with the same rows in any order have the same sum.</summary>
/// <remarks>It finds what got lost, doubled or changed on the way; it is no signature.</remarks>
internal sealed class TableDigest
{
    private const int Words = SHA256.HashSizeInBytes / sizeof(ulong);
    private readonly ulong[] _sum = new ulong[Words];

    /// <summary>How many rows were added.</summary>
    public long Rows { get; private set; }

    /// <summary>Adds a row.</summary>
    /// <param name="line">Its line, as the archive has it, without the line's end.</param>
    public void Add(ReadOnlySpan<byte> line)
    {
        Span<byte> hash = stackalloc byte[SHA256.HashSizeInBytes];
        SHA256.HashData(line, hash);
        ulong carry = 0;
        for (int word = 0; word < Words; word++)
        {
            UInt128 sum = (UInt128)_sum[word] + BinaryPrimitives.ReadUInt64LittleEndian(hash[(word * sizeof(ulong))..]) + carry;
            _sum[word] = unchecked((ulong)sum);
            carry = unchecked((ulong)(sum >> 64));
        }

        Rows++;
    }

    /// <summary>The sum, hexadecimal.</summary>
    public override string ToString()
    {
        Span<byte> bytes = stackalloc byte[SHA256.HashSizeInBytes];
        for (int word = 0; word < Words; word++)
        {
            BinaryPrimitives.WriteUInt64LittleEndian(bytes[(word * sizeof(ulong))..], _sum[word]);
        }

        return Convert.ToHexStringLower(bytes);
    }
}
