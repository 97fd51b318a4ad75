using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>What a technician writes down at the end of a visit; null where there is nothing to tell.</summary>
internal sealed record JobSheet(
    IReadOnlyList<VisitCheck>? Checks = null, IReadOnlyList<VisitFinding>? Findings = null, IReadOnlyList<VisitProof>? Proofs = null,
    IReadOnlyList<PartCondition>? Conditions = null, string? Note = null)
{
    internal static readonly JobSheet Empty = new();
}
