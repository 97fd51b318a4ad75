namespace Washwear.Api.Visits;

/// <summary>Takes photos out of a form: what is no photo, or too large, is left out and told, and nothing else is lost.</summary>
/// <param name="queries">Keeps photos.</param>
public sealed class PhotoUploads(PhotoQueries queries)
{
    /// <summary>Rule of a file that is no photo.</summary>
    public const string NoPhoto = "no_photo";

    /// <summary>Rule of a photo that is too large.</summary>
    public const string TooLarge = "photo_too_large";

    /// <summary>Rule of a photo beyond the number that a visit may have.</summary>
    public const string TooMany = "too_many_photos";

    /// <summary>Keeps the photos of a form.</summary>
    /// <param name="visit">The visit that they belong to.</param>
    /// <param name="files">The files.</param>
    /// <param name="now">When they came.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <returns>The rule that each file which was left out breaks.</returns>
    public async Task<IReadOnlyList<string>> KeepAsync(
        VisitRow visit, IEnumerable<IFormFile> files, DateTimeOffset now, CancellationToken cancellationToken)
    {
        var leftOut = new List<string>();
        var photos = new List<(string Kind, byte[] Body)>();
        // A form without a chosen file sends an empty one.
        foreach (IFormFile file in files.Where(file => file.Length > 0 || file.FileName.Length > 0))
        {
            if (file.Length > PhotoFile.MostBytes)
            {
                leftOut.Add(TooLarge);
                continue;
            }

            byte[] body = await ReadAsync(file, cancellationToken);
            if (PhotoFile.KindOf(body) is { } kind)
            {
                photos.Add((kind, body));
            }
            else
            {
                leftOut.Add(NoPhoto);
            }
        }

        int tooMany = photos.Count == 0 ? 0 : await queries.AddAsync(visit, photos, now, cancellationToken);
        return [.. leftOut, .. Enumerable.Repeat(TooMany, tooMany)];
    }

    private static async Task<byte[]> ReadAsync(IFormFile file, CancellationToken cancellationToken)
    {
        using var copy = new MemoryStream((int)file.Length);
        await file.CopyToAsync(copy, cancellationToken);
        return copy.ToArray();
    }
}
