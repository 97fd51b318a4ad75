namespace Washwear.Dashboard.Visits;

/// <summary>A photo of a visit.</summary>
/// <param name="Number">Its place among the visit's photos, from 1.</param>
/// <param name="ContentType">image/jpeg, image/png or image/webp.</param>
/// <param name="Bytes">Its size, bytes.</param>
/// <param name="Sha256">SHA-256 of its bytes, 64 small hexadecimal digits.</param>
/// <param name="ReceivedAt">When it was taken in.</param>
public sealed record VisitPhoto(int Number, string ContentType, long Bytes, string Sha256, DateTimeOffset ReceivedAt)
{
    /// <summary>Most photos of a visit.</summary>
    public const int Most = 6;

    /// <summary>Largest photo, MiB.</summary>
    public const int MostMebibytes = 8;
}

/// <summary>A photo of a close-out that a visit corrects; it is kept with that one, and shown with both.</summary>
/// <param name="Visit">Key of the earlier close-out, of the same sender.</param>
/// <param name="Number">Its place among the photos of the earlier close-out, from 1.</param>
/// <param name="ContentType">image/jpeg, image/png or image/webp.</param>
/// <param name="Bytes">Its size, bytes.</param>
/// <param name="Sha256">SHA-256 of its bytes, 64 small hexadecimal digits.</param>
/// <param name="ReceivedAt">When it was taken in.</param>
public sealed record EarlierPhoto(string Visit, int Number, string ContentType, long Bytes, string Sha256, DateTimeOffset ReceivedAt);
