using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

internal sealed record EarlySignTexts
{
    internal static TextFile<EarlySignTexts> File { get; } = new("EarlySigns");

    internal static EarlySignTexts Now => File.Now;

    public required IReadOnlyDictionary<SignKind, string> Kinds { get; init; }

    public required IReadOnlyDictionary<SignKind, string> KindsInSentence { get; init; }

    // Why no sign stands any more; {count} is the washes after which something is usual.
    public required IReadOnlyDictionary<SignEnd, string> Ended { get; init; }

    public required string NoLongerWatched { get; init; }

    public required string TooFewWashes { get; init; }

    public required string TooFewOfProgramme { get; init; }

    public required string NoSign { get; init; }

    public required string OneInYears { get; init; }

    public required string NoneCharted { get; init; }

    public required string None { get; init; }

    public required PluralText Some { get; init; }

    public required string NoneAtUnit { get; init; }

    public required string TooLittleAtUnit { get; init; }

    public required string Bad { get; init; }

    public required string Longer { get; init; }

    public required string Shorter { get; init; }

    public required string Method { get; init; }

    public required string Doubt { get; init; }

    public required string GettingWorse { get; init; }

    public required string Caption { get; init; }

    public required string Unit { get; init; }

    public required string Sign { get; init; }

    public required string Seen { get; init; }

    public required string Began { get; init; }

    public required string FalseAlarms { get; init; }

    public required string Called { get; init; }

    public required string Newest { get; init; }

    public required string Csv { get; init; }
}
