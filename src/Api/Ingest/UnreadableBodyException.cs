namespace Washwear.Api.Ingest;

/// <summary>A body, or the rest of it, cannot be read, for a reason that its sender can mend.</summary>
/// <param name="rule">Which rule it breaks, a word that programs can rely on.</param>
/// <param name="detail">What was found, in a sentence.</param>
/// <param name="mend">What to do about it, in a sentence.</param>
internal sealed class UnreadableBodyException(string rule, string detail, string mend) : Exception(detail)
{
    /// <summary>Which rule it breaks.</summary>
    public string Rule => rule;

    /// <summary>What to do about it.</summary>
    public string Mend => mend;
}
