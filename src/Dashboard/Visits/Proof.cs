using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

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

    /// <summary>The proofs of a repair, in the order in which they are taken.</summary>
    /// <param name="grade">Grade of the wash that the unit's rule asks for; null: no rule asks for one.</param>
    /// <param name="heating">Whether the heating circuits are asked for.</param>
    /// <returns>Five or six proofs.</returns>
    public static IReadOnlyList<Proof> Asked(ProgrammeGrade? grade, bool heating)
    {
        string wash = grade is { } asked ? Text.Words(asked.ToString()).ToLowerInvariant() + " wash" : "full wash";
        Proof[] all =
        [
            new("no-leak", "No leak", "Drip tray and hoses stay dry, under pressure and after draining."),
            new("drain-holds-and-drains", "Drain holds and drains", "The water stays in during the wash and is gone after it."),
            new(HeatingCircuits, "Every heating circuit in every mode", "Each circuit heats in hot air, in steam and in both together. Asked for where heating was touched."),
            new(FullWash, "Full wash completed", $"{(wash[0] == 'i' ? "An" : "A")} {wash} ran to its end by itself."),
            new(DetergentDissolved, "Detergent dissolved", "None is left in the cavity, the drawer or the drain."),
            new("guards-and-lockout", "Guards on, lockout removed", "All covers are back, tools counted, isolation taken off."),
        ];
        return heating ? all : [.. all.Where(proof => proof.Code != HeatingCircuits)];
    }
}
