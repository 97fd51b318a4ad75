using System.Collections.Frozen;

namespace Washwear.Api.Import.Guessing;

/// <summary>What words of people mean in the fields that know only a few words.</summary>
internal static class ValueWords
{
    private static readonly FrozenDictionary<string, string> YesNo = Read(
        ("true", "true|yes|y|1|x|ja|j|oui|o|wahr|vrai|si"),
        ("false", "false|no|n|0|nein|non|falsch|faux"));

    private static readonly FrozenDictionary<string, string> WashOutcome = Read(
        ("completed", "completed|complete|ok|okay|done|finished|success|successful|passed|full|yes|true|1|x|fertig|erledigt|beendet|abgeschlossen|durchgelaufen|vollstandig|in ordnung|i o|io|ja|termine|terminee|fini|fait|complet|reussi|oui"),
        ("stopped_by_person", "stopped by person|aborted|abort|cancelled|canceled|cancel|stopped|interrupted|user abort|stopped by user|stopped by staff|abgebrochen|abbruch|gestoppt|unterbrochen|annule|annulee|interrompu|interrompue|arrete|arretee"),
        ("stopped_by_fault", "stopped by fault|failed|fail|fault|error|failure|nok|not ok|alarm|fehler|storung|fehlgeschlagen|n i o|nio|nicht ok|gestort|echec|erreur|defaut|panne|en panne|en defaut"),
        ("refused", "refused|blocked|locked|locked out|lockout|did not start|not started|gesperrt|verweigert|nicht gestartet|blockiert|refuse|refusee|bloque|bloquee|pas demarre|non demarre"),
        ("unknown", "unknown|n a|na|nr|not known|unbekannt|unklar|inconnu|inconnue"));

    private static readonly FrozenDictionary<string, string> ProgrammeGrade = Read(
        ("rinse", "rinse|rinsing|spulen|klarspulen|rincage"),
        ("light", "light|short|quick|eco|small|leicht|kurz|schnell|leger|court|rapide"),
        ("standard", "standard|normal|medium|regular|daily|mittel|moyen|normale"),
        ("intensive", "intensive|intense|strong|heavy|deep|long|intensiv|stark|lang|intensif|fort"),
        ("descale", "descale|descaling|entkalken|entkalkung|detartrage"));

    private static readonly FrozenDictionary<string, string> RemovalReason = Read(
        ("failed", "failed|failure|broken|broke|defect|defective|faulty|fault|worn out|leaking|leak|corrective|repair|defekt|kaputt|ausgefallen|ausfall|undicht|reparatur|panne|en panne|casse|defectueux|hs|fuite|defaillance|corrective maintenance"),
        ("precaution", "precaution|preventive|prevention|planned|scheduled|maintenance|service|routine|pm|vorsorglich|vorbeugend|wartung|planmassig|vorsorge|preventif|preventive maintenance|entretien|maintenance preventive|planifie"),
        ("upgrade", "upgrade|modification|modified|retrofit|recall|umrustung|nachrustung|ruckruf|amelioration|modernisation|rappel"),
        ("found_failed", "found failed|found broken|found defective|found at inspection|defekt vorgefunden|bei prufung|trouve casse|constate a la visite"));

    private static readonly FrozenDictionary<string, string> ConditionGrade = Read(
        ("good", "good|ok|fine|as new|no wear|gut|in ordnung|neuwertig|bon|bon etat"),
        ("worn", "worn|used|fair|wear|some wear|abgenutzt|verschlissen|gebraucht|use|usee|usure|moyen"),
        ("poor", "poor|bad|replace|replace soon|schlecht|ersetzen|stark verschlissen|mauvais|a remplacer"));

    private static readonly FrozenDictionary<string, string> VisitOutcome = Read(
        ("proven", "proven|tested|repaired and tested|fixed and tested|gepruft|repariert und gepruft|teste|repare et teste"),
        ("repaired_not_proven", "repaired not proven|repaired|fixed|done|completed|closed|ok|repariert|erledigt|behoben|abgeschlossen|repare|termine|fait"),
        ("waiting_approval", "waiting approval|awaiting approval|quote|quoted|quotation|wartet auf freigabe|freigabe|angebot|devis|attente accord|en attente d accord"),
        ("waiting_part", "waiting part|waiting for part|awaiting part|awaiting parts|parts ordered|part ordered|on order|ersatzteil bestellt|wartet auf teil|teil bestellt|bestellt|piece commandee|attente piece|en attente de piece"),
        ("no_fault_found", "no fault found|nff|nothing found|no fault|kein fehler|kein fehler gefunden|nichts gefunden|ohne befund|o b|rien trouve|ras|aucun defaut"));

    private static readonly FrozenDictionary<string, string> ApprovalDecision = Read(
        ("granted", "granted|approved|approve|accepted|yes|genehmigt|freigegeben|angenommen|ja|accorde|approuve|accepte|oui"),
        ("refused", "refused|rejected|declined|denied|no|abgelehnt|nein|refuse|rejete|non"));

    /// <summary>The values of a field that knows only a few words; empty: it is none.</summary>
    /// <param name="kind">Kind of the rows.</param>
    /// <param name="field">The field.</param>
    public static IReadOnlyList<string> ValuesOf(ImportKind kind, ImportField field) =>
        [.. Table(kind, field)?.Values.Distinct().Order(StringComparer.Ordinal) ?? Enumerable.Empty<string>()];

    /// <summary>What a word most likely means; null: nobody knows.</summary>
    /// <param name="kind">Kind of the rows.</param>
    /// <param name="field">The field.</param>
    /// <param name="word">The word.</param>
    public static string? Meaning(ImportKind kind, ImportField field, string word) =>
        Table(kind, field)?.GetValueOrDefault(Headings.Words(word));

    private static FrozenDictionary<string, string>? Table(ImportKind kind, ImportField field) => field.Role switch
    {
        FieldRole.YesNo => YesNo,
        FieldRole.Choice => (kind.Name, field.Name) switch
        {
            ("wash", "outcome") => WashOutcome,
            ("wash" or "model" or "rule", "grade") => ProgrammeGrade,
            ("condition", "grade") => ConditionGrade,
            ("part_change", "removed.reason") => RemovalReason,
            ("visit", "outcome") => VisitOutcome,
            ("approval", "decision") => ApprovalDecision,
            _ => null,
        },
        _ => null,
    };

    // Values keep the order in which they stand; the underscore of a value is a space among words.
    private static FrozenDictionary<string, string> Read(params (string Value, string Words)[] lines)
    {
        var words = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach ((string value, string list) in lines)
        {
            foreach (string word in list.Split('|'))
            {
                words.TryAdd(word, value);
            }
        }

        return words.ToFrozenDictionary(StringComparer.Ordinal);
    }
}
