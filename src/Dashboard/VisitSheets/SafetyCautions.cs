namespace Washwear.Dashboard.VisitSheets;

/// <summary>
/// Cautions by hazard, in words of our own on facts of: 29 CFR 1910.147 (isolation, and its order), 1910.333 and 1910.334 (electrical
/// work),
/// 1910.133, 1910.138 and 1910.151 (eyes, hands, flushing), 1910.242 (blowing out) and CSB Bulletin 2003-10-B (nitrogen). They remind a
/// trained
/// person; they teach nobody.
/// </summary>
public static class SafetyCautions
{
    /// <summary>What comes before every sheet.</summary>
    public const string Deferral =
        "Local codes, the maker's instructions and the rules of the site come before this sheet. Live tests and gas work are for those licensed "
        + "here. Stop where something does not match.";

    // In the order in which a visit meets them.
    private static readonly (string Hazard, string Title, string Text)[] All =
    [
        ("electric", "Electricity",
            "Switch off, isolate at the supply, fit your own lock and tag, prove dead with a tested meter. A stop button or a door switch does not isolate. "
            + "Measure live only if licensed, and lock off again after it. Find out why a breaker tripped before you reset it."),
        ("gas", "Gas",
            "Burner, gas train and joints: only who is licensed here. Close the gas valve first; test for leaks after and write down the reading. "
            + "If you smell gas: touch no switch, get everybody out, call."),
        ("water", "Water under pressure", "Close the water tap and let the pressure off before you open a hose, valve or pump."),
        ("hot", "Heat and steam", "Let cavity, boiler and drain cool. Stand aside, open the door a little, let the steam out, then open it."),
        ("caustic", "Caustic detergent",
            "Treat residue, lines and cartridges as corrosive. Wear goggles, gloves and sleeves, and know where to rinse eyes. "
            + "Never mix descaler with detergent or chlorine."),
        ("moving", "Moving parts", "A wheel runs down slowly or starts by itself. Isolate, lock, wait until it stands, then reach in."),
        ("compressed_gas", "Compressed gas",
            "Blow out below 2 bar (30 psi) at the blocked nozzle, or what the local rule allows, with a guard and eye protection. "
            + "Nitrogen: open doors; a small room loses its oxygen without a sign."),
    ];

    /// <summary>The cautions that checks ask for, each once.</summary>
    /// <param name="checks">Codes of checks with their hazards.</param>
    /// <returns>The cautions of exactly these hazards, in the order in which a visit meets them; a hazard that nobody has worded is left
    /// out.</returns>
    public static IReadOnlyList<Caution> For(IReadOnlyList<(string Check, IReadOnlyList<string> Hazards)> checks) =>
    [
        .. All.Select(caution => new Caution(
                caution.Hazard,
                caution.Title,
                caution.Text,
                [.. checks.Where(check => check.Hazards.Contains(caution.Hazard, StringComparer.OrdinalIgnoreCase)).Select(check =>
                    check.Check)]))
            .Where(caution => caution.Checks.Count > 0),
    ];
}
