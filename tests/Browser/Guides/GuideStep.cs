namespace Washwear.Browser.Guides;

/// <summary>One thing that a guide has its reader do.</summary>
/// <param name="Verb">What is done: start, follow, press, unfold, choose, pick, fill or see.</param>
/// <param name="Words">What it is done to, as the screen shows it; empty for start.</param>
/// <param name="With">What is filled in or picked; null: nothing.</param>
/// <param name="At">Words of the row, the group or the section that it stands in; null: anywhere on the page.</param>
/// <param name="Line">Line of the guide, from 1.</param>
/// <param name="Told">What the guide says there to its reader, without its marks.</param>
internal sealed record GuideStep(string Verb, string Words, string? With, string? At, int Line, string Told)
{
    /// <summary>What a reader has to be told to do this.</summary>
    public IEnumerable<string> Asked => new[] { Words, With, At }.OfType<string>().Where(word => word.Length > 0);

    /// <inheritdoc/>
    public override string ToString() =>
        $"line {Line}: {Verb} \"{Words}\"{(With is null ? null : $" with \"{With}\"")}{(At is null ? null : $" at \"{At}\"")}";
}
