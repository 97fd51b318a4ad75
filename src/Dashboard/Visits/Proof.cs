using Washwear.Analytics.Cleaning;

namespace Washwear.Dashboard.Visits;

/// <summary>Something that shows that a repair holds.</summary>
/// <param name="Code">Code under which a visit reports it.</param>
/// <param name="Name">What it is, in a few words.</param>
/// <param name="How">What has to be seen for it to pass.</param>
public sealed record Proof(string Code, string Name, string How)
{
    /// <summary>Code of the full wash.</summary>
    public const string FullWash = "full-wash";

    /// <summary>Code of the heating circuits.</summary>
    public const string HeatingCircuits = "heating-circuits";

    /// <summary>Code of the detergent.</summary>
    public const string DetergentDissolved = "detergent-dissolved";

    // All of them, of every repair: an oven whose wash runs again may still cook on one circuit of three.
    private static readonly string[] InOrder =
        ["no-leak", "drain-holds-and-drains", HeatingCircuits, FullWash, DetergentDissolved, "guards-and-lockout"];

    /// <summary>The proofs of a repair, in the order in which they are taken.</summary>
    /// <param name="grade">Grade of the wash that the unit's rule asks for; null: no rule asks for one.</param>
    /// <returns>Six proofs.</returns>
    public static IReadOnlyList<Proof> Asked(ProgrammeGrade? grade)
    {
        VisitTexts texts = VisitTexts.Now;
        return
        [
            .. InOrder.Select(code => new Proof(
                code, texts.ProofNames[code], code == FullWash && grade is { } asked ? texts.WashOfGrade[asked] : texts.ProofHow[code])),
        ];
    }
}
