using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Approvals;

internal sealed record ApprovalTexts
{
    internal static TextFile<ApprovalTexts> File { get; } = new("Approvals");

    internal static ApprovalTexts Now => File.Now;

    public required string Approvals { get; init; }

    public required string JustGranted { get; init; }

    public required string JustRefused { get; init; }

    // In the place of what was asked for.
    public required string TheRequest { get; init; }

    // After by.
    public required string Somebody { get; init; }

    public required string OnlyUnit { get; init; }

    public required string OnlyKitchen { get; init; }

    public required string OnlyOperator { get; init; }

    public required string ShowAll { get; init; }

    public required string Waiting { get; init; }

    public required string NothingWaits { get; init; }

    public required string Order { get; init; }

    public required string NotKnown { get; init; }

    public required string WaitedSoFar { get; init; }

    public required string NobodyNamedIt { get; init; }

    public required string ForAmount { get; init; }

    public required string Fault { get; init; }

    public required string Mind { get; init; }

    public required string Asked { get; init; }

    public required string AskedCatalogue { get; init; }

    public required string AskedFound { get; init; }

    public required string WhoDecides { get; init; }

    public required string Note { get; init; }

    public required string Grant { get; init; }

    public required string Refuse { get; init; }

    public required string AskedYourself { get; init; }

    public required string ListAsCsv { get; init; }

    public required string FirstShown { get; init; }

    public required string Decided { get; init; }

    public required PluralText LastDecisions { get; init; }

    public required string Caption { get; init; }

    public required string Unit { get; init; }

    public required string What { get; init; }

    public required string Decision { get; init; }

    public required string Waited { get; init; }

    public required string DaysUnwashed { get; init; }

    public required string NotNamed { get; init; }

    public required string Granted { get; init; }

    public required string Refused { get; init; }

    public required string By { get; init; }

    public required string NobodyNamed { get; init; }

    public required string AllAsCsv { get; init; }

    public required string Counted { get; init; }

    public required ApprovalFindingTexts Finding { get; init; }

    public required HowLongTexts HowLong { get; init; }

    // One: of what rounds to 1.
    public required PluralText Days { get; init; }

    public required WaitingCostTexts Cost { get; init; }

    public required ApprovalDoubtTexts Doubts { get; init; }

    public required string Method { get; init; }
}

internal sealed record ApprovalFindingTexts(string None, PluralText Waits, string Costs, string CostsNothing, string NoCost, string SoFar, string Ahead, string Both);

internal sealed record HowLongTexts(string Nothing, string NotOnRecord, PluralText Waits, PluralText ByAsker);

internal sealed record WaitingCostTexts(
    string Unwashed, string NoneMissed, string AheadNotKnown, string Ahead, string AheadNone, string OnlyOven, string NoOther, PluralText Others,
    string Companions, string ThePart, string Either, string DecidedUnwashed, string DecidedNone, string UnknownUnwashed, string UnknownNone);

internal sealed record ApprovalDoubtTexts(string NotLockedOut, string HasWashed, string AnotherRequest, string NotToldWhen, string DecidedByAsker, string EnteredByAsker);
