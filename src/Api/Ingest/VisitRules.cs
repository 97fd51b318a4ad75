using Washwear.Analytics.Repairs;
using Washwear.Api.Http;
using Washwear.Api.Registry;

namespace Washwear.Api.Ingest;

/// <summary>Whether a visit, an approval or a condition can be true.</summary>
/// <param name="instant">Judges an instant by itself.</param>
/// <param name="position">Judges a position of a model.</param>
/// <param name="fault">Judges a fault code of a model.</param>
/// <param name="doubt">Takes what is unlikely but possible.</param>
internal sealed class VisitRules(
    Func<string, DateTimeOffset?, RowProblem?> instant,
    Func<ModelEntry, string, string, RowProblem?> position,
    Func<ModelEntry, string, string, RowProblem?> fault,
    Action<RowProblem> doubt)
{
    // No currency is so small that a repair costs more.
    private const double MostMoney = 1e12;

    private static readonly TimeSpan LongestVisit = TimeSpan.FromHours(24);

    /// <summary>Judges a visit.</summary>
    /// <param name="model">The unit's model.</param>
    /// <param name="visit">The visit.</param>
    public RowProblem? Visit(ModelEntry model, VisitRecord visit)
    {
        RowProblem? problem = instant("asked_at", visit.AskedAt)
            ?? instant("arrived_at", visit.ArrivedAt)
            ?? instant("left_at", visit.LeftAt)
            ?? InOrder("arrived_at", visit.ArrivedAt, "asked_at", visit.AskedAt)
            ?? InOrder("left_at", visit.LeftAt, "arrived_at", visit.ArrivedAt)
            ?? InOrder("left_at", visit.LeftAt, "asked_at", visit.AskedAt)
            ?? (visit.Outcome is not null && visit.LeftAt is null ? VisitProblems.OutcomeBeforeEnd() : null)
            ?? Shape(visit)
            ?? Known(model, visit);
        if (problem is null && visit.LeftAt is not null)
        {
            DoubtEnd(visit);
        }

        return problem;
    }

    /// <summary>Judges an approval.</summary>
    /// <param name="model">The unit's model.</param>
    /// <param name="approval">The approval.</param>
    public RowProblem? Approval(ModelEntry model, ApprovalRecord approval) =>
        instant("asked_at", approval.AskedAt)
        ?? instant("decided_at", approval.DecidedAt)
        ?? InOrder("decided_at", approval.DecidedAt, "asked_at", approval.AskedAt)
        ?? (approval.Decision is not null && approval.DecidedAt is null ? VisitProblems.DecisionHalf("decided_at", "decision")
            : approval.DecidedAt is not null && approval.Decision is null ? VisitProblems.DecisionHalf("decision", "decided_at")
            : null)
        ?? RecordRules.Number("amount", approval.Amount, MostMoney)
        ?? (approval.FaultCode is { } code ? fault(model, "fault_code", code) : null);

    /// <summary>Judges a condition.</summary>
    /// <param name="model">The unit's model.</param>
    /// <param name="record">The condition.</param>
    public RowProblem? Condition(ModelEntry model, ConditionRecord record) => position(model, "position", record.Position);

    private static RowProblem? InOrder(string later, DateTimeOffset? laterAt, string earlier, DateTimeOffset? earlierAt) =>
        laterAt < earlierAt ? VisitProblems.OutOfOrder(later, earlier) : null;

    private static RowProblem? Shape(VisitRecord visit)
    {
        var problems = new List<FieldProblem>();
        var book = new RuleBook(string.Empty, problems);
        Each(visit.Faults, (code, i) => book.Code(FormattableString.Invariant($"faults[{i}]"), code));
        Each(visit.Checks, (check, i) =>
        {
            book.At("checks", i).Code("check", check.Check);
            book.At("checks", i).Text("unit_of_measure", check.UnitOfMeasure);
        });
        Each(visit.Findings, (finding, i) =>
        {
            book.At("findings", i).Code("position", finding.Position);
            book.At("findings", i).Text("failure_mode", finding.FailureMode);
            book.At("findings", i).Text("cause", finding.Cause);
            book.At("findings", i).Text("note", finding.Note);
        });
        Each(visit.Proofs, (proof, i) => book.At("proofs", i).Code("proof", proof.Proof));
        Each(visit.Conditions, (condition, i) =>
        {
            book.At("conditions", i).Code("position", condition.Position);
            book.At("conditions", i).Text("note", condition.Note);
        });
        return problems.Count == 0 ? null : RowProblem.Of(problems[0]);
    }

    private static void Each<T>(IReadOnlyList<T>? items, Action<T, int> judge)
    {
        for (int i = 0; i < (items?.Count ?? 0); i++)
        {
            judge(items![i], i);
        }
    }

    private RowProblem? Known(ModelEntry model, VisitRecord visit)
    {
        RowProblem? problem = null;
        Each(visit.Findings, (finding, i) =>
            problem ??= position(model, FormattableString.Invariant($"findings[{i}].position"), finding.Position));
        Each(visit.Conditions, (condition, i) =>
            problem ??= position(model, FormattableString.Invariant($"conditions[{i}].position"), condition.Position));
        if (problem is not null)
        {
            return problem;
        }

        Each(visit.Faults, (code, i) => fault(model, FormattableString.Invariant($"faults[{i}]"), code));
        Each(visit.Checks, (check, i) => DoubtUnlessListed(model, FormattableString.Invariant($"checks[{i}].check"), check.Check));
        return null;
    }

    private void DoubtUnlessListed(ModelEntry model, string field, string code)
    {
        FaultCheckResource[] listed = [.. model.Resource.Faults.SelectMany(known => known.Checks ?? [])];
        if (listed.Length > 0 && !listed.Any(check => check.Check.Equals(code, StringComparison.OrdinalIgnoreCase)))
        {
            doubt(VisitProblems.CheckNotListed(field, code, model.Resource.Model));
        }
    }

    private void DoubtEnd(VisitRecord visit)
    {
        if (visit.Outcome is null)
        {
            doubt(VisitProblems.NoOutcome());
        }

        if (visit.ArrivedAt is null)
        {
            doubt(VisitProblems.NoArrival());
        }

        if (visit.LeftAt - visit.ArrivedAt is { } length && length > LongestVisit)
        {
            doubt(VisitProblems.LongVisit(length.TotalHours));
        }

        if (visit.Outcome == Analytics.Cleaning.VisitOutcome.Proven)
        {
            DoubtProof([.. (visit.Proofs ?? []).Where(proof => proof.Result == CheckResult.Pass).Select(proof => proof.Proof)]);
        }
    }

    // Taken in all the same: what a person declares proves nothing, and how much was shown is judged where repairs are.
    private void DoubtProof(string[] passed)
    {
        if (passed.Length == 0)
        {
            doubt(VisitProblems.ProvenWithoutProof());
        }
        else if (!passed.Contains(RepairEvidence.HeatingCircuits, StringComparer.OrdinalIgnoreCase))
        {
            doubt(VisitProblems.ProvenWithoutHeating());
        }
    }
}
