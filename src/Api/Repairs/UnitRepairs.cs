using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;
using Washwear.Api.Registry;

namespace Washwear.Api.Repairs;

/// <summary>A visit as stored, as far as repairs look at it.</summary>
/// <param name="Seq">Number of its record.</param>
/// <param name="Key">The sender's key.</param>
/// <param name="AskedAt">When it was asked for.</param>
/// <param name="ArrivedAt">When work began.</param>
/// <param name="LeftAt">When work ended.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="Technician">Who came.</param>
/// <param name="Faults">Codes of the faults that it was for.</param>
/// <param name="Position">Position found at fault, or whose part failed.</param>
/// <param name="Proofs">The proofs that it reports.</param>
internal sealed record StoredVisit(
    long Seq, string Key, Instant? AskedAt, Instant? ArrivedAt, Instant? LeftAt, VisitOutcome? Outcome, string? Technician,
    IReadOnlyList<string> Faults, string? Position, IReadOnlyList<TakenProof> Proofs)
{
    /// <summary>Whether it ended with a repair.</summary>
    public bool Repaired => ToRepairVisit().Repaired;

    /// <summary>The visit as a repair.</summary>
    public CompletedRepair ToRepair() => new(ArrivedAt, LeftAt!.Value, Outcome == VisitOutcome.Proven, Faults, Proofs);

    /// <summary>The visit as the quality of repairs looks at it.</summary>
    public RepairVisit ToRepairVisit() => new(Seq, ArrivedAt, LeftAt, Outcome, Technician, Faults, Position);
}

/// <summary>The records of one unit that repairs are judged by.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Faults">Its faults.</param>
/// <param name="Visits">Its visits, in the order in which they began.</param>
/// <param name="Approvals">Its approvals.</param>
/// <param name="PartsFailed">When parts were changed because they had failed.</param>
internal sealed record UnitRepairs(
    UnitTerms Unit, IReadOnlyList<WashFault> Faults, IReadOnlyList<StoredVisit> Visits, IReadOnlyList<Approval> Approvals,
    IReadOnlyList<Instant> PartsFailed)
{
    /// <summary>The records as the computation of delays takes them.</summary>
    public UnitHistory ToHistory() => new(
        Unit.Service, [], Faults, [],
        [.. Visits.Select(visit => new Visit(visit.AskedAt, visit.ArrivedAt, visit.LeftAt, visit.Outcome))], Approvals);
}
