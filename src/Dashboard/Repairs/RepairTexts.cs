using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

internal sealed record RepairTexts
{
    internal static TextFile<RepairTexts> File { get; } = new("Repairs");

    internal static RepairTexts Now => File.Now;

    public required string Repairs { get; init; }

    public required string NoneYet { get; init; }

    public required string WhatToSend { get; init; }

    public required PluralText LookedAt { get; init; }

    public required PluralText TooRecent { get; init; }

    public required string FixedFirst { get; init; }

    public required PluralText CameBackWithin { get; init; }

    public required string Proven { get; init; }

    public required string ShareOf { get; init; }

    public required string NothingToCount { get; init; }

    public required string FiguresAsCsv { get; init; }

    public required string FaultsAsCsv { get; init; }

    public required RepairHelpTexts Help { get; init; }

    public required QualityGroupTexts ByFault { get; init; }

    public required QualityGroupTexts ByPosition { get; init; }

    public required QualityTexts Quality { get; init; }

    public required TechnicianTexts Technicians { get; init; }

    public required BehindTexts Behind { get; init; }

    public required RepairProofTexts Proof { get; init; }

    public required string Counted { get; init; }

    public required UnprovenTexts Unproven { get; init; }

    public required IReadOnlyDictionary<RepairState, string> States { get; init; }

    public required IReadOnlyDictionary<EpisodeResult, string> Results { get; init; }

    // Clauses.
    public required IReadOnlyDictionary<RepairContradiction, string> Against { get; init; }

    // By the code of the proof, in a list of what is missing.
    public required IReadOnlyDictionary<string, string> MissingProofs { get; init; }

    public required RepairStateTexts State { get; init; }

    public required RepairFindingTexts Finding { get; init; }

    public required string All { get; init; }

    public required string NotTold { get; init; }

    public required string Method { get; init; }
}

// First, Again: their number is that of the days within which a fault that comes back is a repeat.
internal sealed record RepairHelpTexts(string Title, PluralText First, PluralText Again, string Proven, string Bounds, string Range, string Drawn);

internal sealed record QualityGroupTexts(string Heading, string Column, string Caption);

internal sealed record QualityTexts(
    string Nothing, string Faults, string FixedFirst, string CameBack, string Proven, string FaultsOf, string None);

internal sealed record TechnicianTexts(
    string Heading, string Caption, string Technician, string Share, string ShareDrawn, string Apart, PluralText Others, string Of, string TooFew, string Yes,
    string No, string NoneNamed, string Order, string OrderApart);

internal sealed record BehindTexts(
    string Heading, string OnlyFault, string OnlyPosition, string ShowAll, string None, string Caption, string Unit, string Fault, string Raised,
    string HowItEnded, string Visits, string Stood, string Again, string Visit, string Latest, string CsvHasAll);

internal sealed record RepairProofTexts(string Heading, string Text, string UnprovenNow, string Delays);

internal sealed record UnprovenTexts(
    string Heading, string None, string Note, string Caption, string Unit, string Repaired, string Known, string FirstShown);

// Lacks, LacksMore: clauses; LacksMore where some clean washes in a row have come already.
internal sealed record RepairStateTexts(
    string ProvenByProofs, PluralText ProvenByWashes, string InDoubt, string NotProven, PluralText Lacks, PluralText LacksMore, string Nothing, string ProofsPassedBut,
    string CallsItProven);

internal sealed record RepairFindingTexts(string TooEarly, string Shares, string SharesProven);
