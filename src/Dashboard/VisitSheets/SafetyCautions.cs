namespace Washwear.Dashboard.VisitSheets;

/// <summary>Cautions by hazard, worded in <c>Safety.en.json</c> and its fellows. They remind a trained person; they teach nobody.</summary>
public static class SafetyCautions
{
    // In the order in which a visit meets them.
    private static readonly string[] Hazards = ["electric", "gas", "water", "hot", "caustic", "moving", "compressed_gas"];

    /// <summary>What comes before every sheet.</summary>
    public static string Deferral => SafetyTexts.Now.Deferral;

    /// <summary>The cautions that checks ask for, each once.</summary>
    /// <param name="checks">Codes of checks with their hazards.</param>
    /// <returns>The cautions of exactly these hazards, in the order in which a visit meets them; a hazard that nobody has worded is left
    /// out.</returns>
    public static IReadOnlyList<Caution> For(IReadOnlyList<(string Check, IReadOnlyList<string> Hazards)> checks) =>
    [
        .. Hazards.Select(hazard => new Caution(
                hazard,
                SafetyTexts.Now.Cautions[hazard].Title,
                SafetyTexts.Now.Cautions[hazard].Text,
                [.. checks.Where(check => check.Hazards.Contains(hazard, StringComparer.OrdinalIgnoreCase)).Select(check => check.Check)]))
            .Where(caution => caution.Checks.Count > 0),
    ];
}
