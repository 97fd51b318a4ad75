using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Upkeep;

/// <summary>Texts on how an installation is kept: Upkeep.en.json and its fellows. A name is the text's key.</summary>
internal sealed record UpkeepTexts
{
    internal static TextFile<UpkeepTexts> File { get; } = new("Upkeep");

    internal static UpkeepTexts Now => File.Now;

    public required string Upkeep { get; init; }

    public required string Kicker { get; init; }

    public required string ByItself { get; init; }

    public required string Caption { get; init; }

    public required string Task { get; init; }

    public required string Stands { get; init; }

    public required string LastDone { get; init; }

    public required string LastWell { get; init; }

    public required string Never { get; init; }

    public required string Settings { get; init; }

    public required IReadOnlyDictionary<UpkeepTask, string> Tasks { get; init; }

    public required string Well { get; init; }

    public required string NoBackups { get; init; }

    public required string Off { get; init; }

    // {said} is what the program noted then, in English.
    public required string Overdue { get; init; }

    public required string OverdueNeverDone { get; init; }

    public required string NotDoneYet { get; init; }

    public required string Done { get; init; }

    // The same beside the name of the task.
    public required StandingTexts Alone { get; init; }
}

internal sealed record StandingTexts
{
    public required string Off { get; init; }

    public required string Overdue { get; init; }

    public required string OverdueNeverDone { get; init; }

    public required string NotDoneYet { get; init; }

    public required string Done { get; init; }
}
