namespace Washwear.Dashboard.Shell;

/// <summary>Words in durations, which pages of every folder share.</summary>
/// <param name="LessThanAMinute">A length of time that is no whole minute.</param>
/// <param name="Days">A number of days.</param>
/// <param name="LessThanAMinuteAgo">The same as it stands after 'ago'.</param>
/// <param name="DaysAgo">A number of days as it stands after 'ago'.</param>
/// <param name="Ago">An instant that has passed; {time} is how long ago.</param>
/// <param name="Ahead">An instant to come; {time} is how far ahead.</param>
public sealed record ShellTexts(string LessThanAMinute, PluralText Days, string LessThanAMinuteAgo, PluralText DaysAgo, string Ago, string Ahead)
{
    /// <summary>The files.</summary>
    public static TextFile<ShellTexts> File { get; } = new("Shell");

    /// <summary>The texts in the language of the present reader.</summary>
    internal static ShellTexts Now => File.Now;
}
