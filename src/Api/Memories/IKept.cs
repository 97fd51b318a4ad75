namespace Washwear.Api.Memories;

/// <summary>What is kept in memory and made anew before it is too old to be given.</summary>
internal interface IKept
{
    /// <summary>Makes it anew if it was asked for lately, was dear to make and would be too old soon.</summary>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    Task KeepAsync(DateTimeOffset now, CancellationToken cancellationToken);
}
