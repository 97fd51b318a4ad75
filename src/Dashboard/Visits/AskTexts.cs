using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Visits;

// The form by which a kitchen tells a fault and asks for a visit.
internal sealed record AskTexts
{
    internal static TextFile<AskTexts> File { get; } = new("Ask");

    internal static AskTexts Now => File.Now;

    public required string Title { get; init; }

    public required string Kicker { get; init; }

    public required string MayNotSend { get; init; }

    public required string AskedAlready { get; init; }

    public required PluralText NotSaved { get; init; }

    public required string WhatItShows { get; init; }

    public required string Faults { get; init; }

    public required string OtherFaults { get; init; }

    public required string NothingShown { get; init; }

    public required string Open { get; init; }

    public required string Since { get; init; }

    public required string WallClock { get; init; }

    public required string Note { get; init; }

    public required string Stop { get; init; }

    public required string Ask { get; init; }
}
