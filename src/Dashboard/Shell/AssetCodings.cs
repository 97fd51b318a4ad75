using System.Collections.Concurrent;
using System.IO.Compression;

namespace Washwear.Dashboard.Shell;

/// <summary>The files that pages need as they travel: compressed as far as it goes, once, since they never change while the program runs.</summary>
internal static class AssetCodings
{
    private static readonly ConcurrentDictionary<(string Name, string Coding), byte[]> Made = new();

    /// <summary>Codings in the order in which they are chosen.</summary>
    internal static IReadOnlyList<string> Offered { get; } = ["br", "gzip"];

    /// <summary>A file in a coding.</summary>
    /// <param name="asset">The file.</param>
    /// <param name="coding">One of those offered.</param>
    internal static byte[] Coded(Asset asset, string coding) => Made.GetOrAdd((asset.Name, coding), _ =>
    {
        using var small = new MemoryStream();
        using (Stream coder = coding == "br" ? new BrotliStream(small, CompressionLevel.SmallestSize) : new GZipStream(small, CompressionLevel.SmallestSize))
        {
            coder.Write(asset.Content.Span);
        }

        return small.ToArray();
    });
}
