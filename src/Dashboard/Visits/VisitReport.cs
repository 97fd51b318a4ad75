using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Visits;

/// <summary>One visit: what was recorded, and what follows from it.</summary>
/// <param name="Basis">What the answer rests on; its doubts are those about this visit.</param>
/// <param name="Key">Key of the visit.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Sentence">What happened, in one sentence.</param>
/// <param name="Follows">What follows from it, a sentence each.</param>
/// <param name="AskedAt">When it was asked for.</param>
/// <param name="ArrivedAt">When work began.</param>
/// <param name="LeftAt">When work ended.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="Technician">Who came.</param>
/// <param name="Note">Words of the technician.</param>
/// <param name="Faults">Faults that it was for, with what the catalogue says they mean.</param>
/// <param name="Checks">Checks and what they came to.</param>
/// <param name="Findings">What was found, in words.</param>
/// <param name="Parts">Parts taken out and put in, in words; told of visits that were closed by the form.</param>
/// <param name="Conditions">Parts looked at and left in, in words.</param>
/// <param name="Proofs">Proofs and what they came to.</param>
/// <param name="Approval">The approval that it asked for; null: none.</param>
/// <param name="Others">Other visits to the unit at the same time.</param>
/// <param name="Photos">Photos.</param>
/// <param name="EarlierPhotos">Photos of the close-outs that it corrects, the latest close-out first; one that came again is among its own.</param>
/// <param name="IsVoided">Whether a later record voids or replaces it.</param>
/// <param name="ReceivedAt">When it was taken in.</param>
public sealed record VisitReport(
    Basis Basis,
    string Key,
    string Source,
    string Unit,
    string Site,
    string SiteName,
    string TimeZone,
    string Sentence,
    IReadOnlyList<string> Follows,
    DateTimeOffset? AskedAt,
    DateTimeOffset? ArrivedAt,
    DateTimeOffset? LeftAt,
    VisitOutcome? Outcome,
    string? Technician,
    string? Note,
    IReadOnlyList<string> Faults,
    IReadOnlyList<CheckDone> Checks,
    IReadOnlyList<string> Findings,
    IReadOnlyList<string> Parts,
    IReadOnlyList<string> Conditions,
    IReadOnlyList<ProofTaken> Proofs,
    VisitAsk? Approval,
    IReadOnlyList<VisitLink> Others,
    IReadOnlyList<VisitPhoto> Photos,
    IReadOnlyList<EarlierPhoto> EarlierPhotos,
    bool IsVoided,
    DateTimeOffset ReceivedAt);

/// <summary>A check that was done, or left out.</summary>
/// <param name="Check">Its code.</param>
/// <param name="Text">What was to be done.</param>
/// <param name="Result">pass, fail or not_done.</param>
/// <param name="Reading">What was measured.</param>
/// <param name="UnitOfMeasure">In which unit of measure.</param>
public sealed record CheckDone(string Check, string Text, string Result, double? Reading, string? UnitOfMeasure);

/// <summary>A proof that was taken, or left out.</summary>
/// <param name="Proof">Its code.</param>
/// <param name="Name">What it is.</param>
/// <param name="Result">pass, fail or not_done.</param>
public sealed record ProofTaken(string Proof, string Name, string Result);

/// <summary>An approval that a visit asked for.</summary>
/// <param name="What">What has to be approved.</param>
/// <param name="Amount">What it will cost, in the installation's currency; null: not told.</param>
/// <param name="Sentence">What was asked and what came of it, in one sentence.</param>
public sealed record VisitAsk(string What, double? Amount, string Sentence);

/// <summary>A visit in one line, with its key.</summary>
/// <param name="Key">Key of the visit.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Sentence">What happened, in one sentence.</param>
/// <param name="ArrivedAt">When work began.</param>
/// <param name="Photos">Number of its photos, those of the close-outs that it corrects included.</param>
/// <param name="Doubts">What speaks against it, a sentence each.</param>
public sealed record VisitLink(string Key, string Source, string Sentence, DateTimeOffset? ArrivedAt, int Photos, IReadOnlyList<string> Doubts);

/// <summary>The receipt of a close-out: the visit, and what the reader has just done.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Done">What has just been done, in a sentence; null: the reader only looks.</param>
/// <param name="LeftOut">Files that were not kept, a sentence each.</param>
/// <param name="MayAdd">Whether the reader may add photos.</param>
/// <param name="MayCorrect">Whether the reader may tell it anew by the form.</param>
/// <param name="MayWithdraw">Whether the reader may withdraw it.</param>
/// <param name="Corrects">Key of the close-out that it corrects; null: none.</param>
/// <param name="CorrectedBy">Key of the visit that stands for it now; null: none.</param>
public sealed record VisitPageReport(
    VisitReport Visit, string? Done, IReadOnlyList<string> LeftOut, bool MayAdd, bool MayCorrect, bool MayWithdraw, string? Corrects, string? CorrectedBy);
