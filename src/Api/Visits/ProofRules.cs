using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Which proofs a repair asks for, and whether it may be called proven.</summary>
internal static class ProofRules
{
    /// <summary>The proofs of a unit.</summary>
    /// <param name="terms">The unit with its cleaning rules.</param>
    /// <param name="at">When the repair is proven.</param>
    public static IReadOnlyList<Proof> Of(UnitTerms terms, DateTimeOffset at) => Proof.Asked(GradeAt(terms, at));

    /// <summary>The highest grade, descaling apart, that a rule asks of the unit; null: none does.</summary>
    /// <param name="terms">The unit with its cleaning rules.</param>
    /// <param name="at">When.</param>
    public static ProgrammeGrade? GradeAt(UnitTerms terms, DateTimeOffset at)
    {
        NodaTime.LocalDate day = NodaTime.Instant.FromDateTimeOffset(at).InZone(terms.Unit.Site.Zone).Date;
        ProgrammeGrade[] grades =
            [.. terms.RulesOn(day).Select(rule => rule.Rule.Grade).Where(grade => grade != ProgrammeGrade.Descale)];
        return grades.Length == 0 ? null : grades.Max();
    }

    /// <summary>Why a repair may not be called proven; null: it may, or nobody does.</summary>
    /// <param name="values">What was entered.</param>
    /// <param name="asked">The proofs that the repair asks for.</param>
    public static CloseOutProblem? Refuse(CloseOutValues values, IReadOnlyList<Proof> asked)
    {
        if (values.Of(CloseOutFields.Outcome) is not "proven")
        {
            return null;
        }

        string[] failed = [.. values.Names.Where(name => name.StartsWith("proof/", StringComparison.Ordinal) && values.Of(name) == "fail").Select(Name)];
        string[] missing = [.. asked.Where(proof => values.Of(CloseOutFields.Proof(proof.Code)) is not ("pass" or "fail")).Select(proof => proof.Name)];
        string[] reasons =
        [
            .. failed.Length == 0 ? Array.Empty<string>() : [$"failed: {string.Join(", ", failed)}"],
            .. missing.Length == 0 ? Array.Empty<string>() : [$"not done: {string.Join(", ", missing)}"],
        ];
        return reasons.Length == 0 ? null : new CloseOutProblem(
            CloseOutFields.Outcome,
            failed.Length > 0 ? "proof_failed" : "proof_missing",
            $"This repair is not proven yet; {string.Join("; ", reasons)}.",
            "Choose 'Repaired, not proven', or take the proofs that are left and mark them.");

        string Name(string field) => asked.FirstOrDefault(proof => CloseOutFields.Proof(proof.Code) == field)?.Name ?? CloseOutFields.Codes(field)[0];
    }
}
