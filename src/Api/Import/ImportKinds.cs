using static Washwear.Api.Import.FieldRole;

namespace Washwear.Api.Import;

/// <summary>The kinds of rows that a sheet may hold, with their fields: the one list that guessing, pages, templates and commands go by.</summary>
internal static class ImportKinds
{
    private const string UnitWords =
        "unit|asset|asset tag|asset no|asset nr|asset number|asset id|tag|oven|oven no|oven nr|oven id|oven number|machine|machine no|machine nr|machine id|appliance"
        + "|equipment|equipment id|equipment no|device|device id|combi|combi oven|gerat|gerate nr|geratenummer|gerate id|inventarnummer|inventar nr|anlage|anlagen nr"
        + "|ofen|ofen nr|maschine|maschinen nr|equipement|appareil|n appareil|no appareil|numero appareil|four|numero four|n four|machine n|code appareil";

    private const string When = "date|date time|datetime|timestamp|when|time|day|datum|zeitpunkt|zeit|uhrzeit|datum uhrzeit|datum zeit|tag|date heure|date et heure|heure|jour|at";

    private const string NoteWords = "note|notes|remark|remarks|comment|comments|bemerkung|bemerkungen|notiz|kommentar|anmerkung|remarque|remarques|commentaire|observation|observations";

    private const string PositionWords =
        "position|part|component|item|part position|part name|spare part|component name|bauteil|teil|komponente|ersatzteil|baugruppe|piece|composant|element|organe";

    private const string CodeWords =
        "code|fault|fault code|error|error code|error no|error nr|alarm|alarm code|failure code|fault no|fehler|fehlercode|fehler nr|fehlernummer|storung|storungscode|code erreur|code defaut|erreur|defaut|panne|code panne";

    private static readonly ImportField Key = new(
        "key", FieldRole.Key, "Your own key", "Unique among what this source sends; left out: one is made from the row's content.",
        "key|record id|record no|entry id|entry no|job no|job number|job id|ticket|ticket no|ticket number|ticket id|reference|ref|id|vorgang|vorgangsnummer|auftrag|auftragsnummer|auftrags nr|beleg nr|numero intervention|n intervention|n bon|identifiant");

    private static readonly ImportField[] Ends = [Key, new("replaces", FieldRole.Key, "Key that it replaces", "Key of the record that this one stands for.", "replaces|corrects|ersetzt|remplace")];

    private static readonly ImportField Unit = new(
        "unit", Code, "Unit (asset tag)", "Asset tag, or serial number, of the oven, as in the registry.", UnitWords, "EXAMPLE-OVEN-1", Required: true, Of: "unit");

    private static readonly ImportField Position = new(
        "position", Code, "Position", "Code or name of the part's place, such as wash-pump.", PositionWords, "wash-pump", Required: true, Of: "position");

    /// <summary>All kinds: what happened first, then who and what there is.</summary>
    public static IReadOnlyList<ImportKind> All { get; } =
    [
        new("wash", "Washes", false,
        [
            Unit,
            .. Moments("started_at", "Started", "When the wash started", When + "|start|started|start time|start date|started at|begin|beginn|startzeit|start datum|gestartet|von|from|waschbeginn|debut|heure de debut|date de debut|wash date|waschdatum", required: true),
            .. Moments("ended_at", "Ended", "When it ended", "end|ended|end time|end date|ended at|finish|finished|finish time|stop time|ende|endzeit|endedatum|beendet|bis|to|waschende|fin|heure de fin|date de fin|until"),
            new("ended_at.minutes", Minutes, "Length, minutes", "Minutes from start to end; the end follows from it.", "duration|duration min|minutes|length|run time|runtime|dauer|dauer min|laufzeit|minuten|duree|duree min", "95"),
            new("programme", Code, "Programme", "Programme code of the model.", "programme|program|wash programme|wash program|cycle|wash cycle|wash type|programm|waschprogramm|reinigungsprogramm|cycle de lavage|programme de lavage", "W3", Of: "programme"),
            new("grade", Choice, "Grade", "rinse, light, standard, intensive or descale.", "grade|level|intensity|wash level|wash grade|programme|program|wash type|type|stufe|intensitat|programm|niveau|intensite|cycle", "standard"),
            new("outcome", Choice, "Outcome", "completed, stopped_by_person, stopped_by_fault, refused or unknown.", "outcome|result|status|state|completed|wash result|ergebnis|resultat|ok|abschluss|etat|statut|issue", "completed", Required: true),
            new("fault_code", Code, "Fault", "Code of the fault that stopped or refused it.", CodeWords, Of: "fault"),
            new("detergent_doses", Number, "Detergent, doses", "How many doses were used.", "detergent doses|doses|detergent|tablets|dosierung|reiniger|reinigertabletten|tabletten|anzahl tabletten|pastilles|detergent utilise|nombre de pastilles", "2"),
            new("detergent_left", YesNo, "Detergent left", "yes where undissolved detergent was found after the wash.", "detergent left|residue|detergent residue|undissolved|ruckstande|reiniger rest|ruckstand|residus|residu detergent"),
            new("attested_by", Words, "Cleaned by hand, says", "Who attests a clean by hand.", "attested by|cleaned by|signed by|signature|visum|gereinigt von|unterschrift|nettoye par|signe par"),
            .. Ends,
        ]),
        new("fault", "Faults", false,
        [
            Unit,
            .. Moments("raised_at", "Raised", "When the fault came up", When + "|raised|raised at|start|began|occurred|occurred at|reported|reported at|reported on|gemeldet|gemeldet am|aufgetreten|von|debut|signale|signale le|survenu le|apparition", required: true),
            .. Moments("cleared_at", "Cleared", "When it was cleared; left out: not known", "cleared|cleared at|end|ended|reset|reset at|fixed at|fixed on|resolved|resolved at|behoben|behoben am|erledigt am|quittiert|bis|fin|resolu|resolu le|acquitte"),
            new("code", Code, "Fault code", "Code that the unit shows.", CodeWords, "E21", Required: true, Of: "fault"),
            .. Ends,
        ]),
        new("fault_cleared", "Cleared faults", false,
        [
            Unit,
            .. Moments("cleared_at", "Cleared", "When the fault was cleared", When + "|cleared|cleared at|reset|reset at|resolved|resolved at|behoben|behoben am|quittiert|resolu|resolu le|acquitte", required: true),
            new("code", Code, "Fault code", "Code that the unit showed.", CodeWords, "E21", Required: true, Of: "fault"),
            .. Ends,
        ]),
        new("part_change", "Part changes", false,
        [
            Unit,
            .. Moments("at", "When", "When the part was changed", When + "|changed|changed on|replaced|replaced on|replacement date|change date|exchange date|fitted on|getauscht|getauscht am|gewechselt|gewechselt am|wechseldatum|einbaudatum|remplace le|change le|date de remplacement|date intervention|date d intervention", required: true),
            Position,
            new("removed", YesNo, "Something was taken out", "yes where a part was taken out and the reason is not known.", "removed|old part removed|ausgebaut|depose"),
            new("removed.reason", Choice, "Why it was taken out", "failed, precaution, upgrade or found_failed.", "reason|removed reason|why|cause of change|reason for change|change reason|grund|wechselgrund|ursache|tauschgrund|motif|raison", "failed"),
            new("removed.failure_mode", Words, "How it failed", "Failure mode of the position.", "failure mode|mode|failure|defect|schaden|fehlerbild|schadensbild|mode de defaillance|defaillance|type de panne"),
            new("removed.mechanism", Words, "Mechanism", "What wore it out, such as corrosion.", "mechanism|failure mechanism|mechanismus|mecanisme"),
            .. Moments("removed.last_seen_good_at", "Last seen good", "When a part that was found failed was last seen good", "last seen good|last ok|last inspection|letzte prufung|zuletzt in ordnung|dernier controle"),
            .. Moments("removed.fitted_at", "Old part fitted", "When the part that was taken out had been fitted", "old part fitted|fitted before|installed before|old part installed|eingebaut seit|pose precedente"),
            new("fitted", YesNo, "A part was put in", "yes where a part was put in of which nothing else is known.", "fitted|new part fitted|installed|eingebaut|pose|nouvelle piece posee"),
            new("fitted.part_number", Code, "Part number put in", "Part number of the new part.", "part number|part no|part nr|new part number|item number|item no|sku|article|article no|teilenummer|artikelnummer|artikel nr|teile nr|material nr|reference piece|n piece|code piece|numero piece|ref piece", "EXAMPLE-4711", Of: "part"),
            new("fitted.batch", Words, "Batch", "Batch of the new part.", "batch|lot|batch no|lot no|charge|chargennummer|numero de lot"),
            new("fitted.supplier", Words, "Supplier", "Who delivered the new part.", "supplier|vendor|lieferant|fournisseur"),
            new("fitted.age_days", Number, "Age when put in, days", "Days that the part had served before; 0 or left out: new.", "age days|used days|alter tage|age jours"),
            new("fitted.age_washes", Number, "Age when put in, washes", "Washes that the part had served before.", "age washes|used washes|alter waschgange|age lavages"),
            .. Ends,
        ]),
        new("meter", "Meter readings", false,
        [
            Unit,
            .. Moments("at", "When", "When the meter was read", When + "|read at|reading date|read on|abgelesen|abgelesen am|ablesedatum|releve le|date de releve", required: true),
            new("washes_total", Number, "Washes so far", "Washes that the unit has run in its life.", "washes total|washes|wash counter|wash count|total washes|number of washes|cycles|waschzahler|anzahl waschgange|waschgange|reinigungen|compteur lavages|nombre de lavages|lavages", "812"),
            new("operating_hours_total", Number, "Operating hours so far", "Hours that the unit has run in its life.", "operating hours total|operating hours|hours|hour meter|run hours|hours total|betriebsstunden|stunden|bh|heures|heures de fonctionnement|compteur horaire", "4310"),
            .. Ends,
        ]),
        new("visit", "Visits", false,
        [
            Unit,
            .. Moments("asked_at", "Asked for", "When the visit was asked for", "asked|asked at|requested|requested at|requested on|called|call date|reported|reported on|ordered on|gemeldet|gemeldet am|angefordert|angefordert am|auftragsdatum|demande|demande le|date de demande|appel"),
            .. Moments("arrived_at", "Arrived", "When work began", When + "|arrived|arrival|arrived at|arrival time|visit date|date of visit|start|work start|service date|ankunft|ankunftszeit|besuch|besuchsdatum|einsatzdatum|arbeitsbeginn|von|arrivee|heure d arrivee|date de visite|date intervention|date d intervention|debut"),
            .. Moments("left_at", "Left", "When work ended", "left|left at|departure|departed|end|work end|finished|abfahrt|abreise|arbeitsende|ende|bis|depart|heure de depart|fin|fin d intervention"),
            new("left_at.minutes", Minutes, "Length, minutes", "Minutes on site; the end follows from it.", "duration|duration min|minutes|minutes on site|time on site|length|dauer|dauer min|minuten|duree|duree min", "60"),
            new("technician", Words, "Technician", "Who came.", "technician|engineer|tech|service engineer|by|done by|worked by|techniker|monteur|servicetechniker|technicien|intervenant", "Technician 1 (invented)"),
            new("outcome", Choice, "Outcome", "proven, repaired_not_proven, waiting_approval, waiting_part or no_fault_found.", "outcome|result|status|state|ergebnis|resultat|etat|statut|issue", "repaired_not_proven"),
            new("faults", Codes, "Faults", "Fault codes that the visit was for, separated by commas.", "faults|fault codes|" + CodeWords, "E21", Of: "fault"),
            new("finding.position", Code, "Found at position", "Position that was at fault.", "finding|found at|faulty part|" + PositionWords, Of: "position"),
            new("finding.failure_mode", Words, "How it had failed", "Failure mode of that position.", "failure mode|mode|defect|fehlerbild|schadensbild|mode de defaillance|type de panne"),
            new("finding.cause", Words, "Why it had failed", "Cause.", "cause|root cause|reason|ursache|grund|cause racine|motif"),
            new("note", Words, "Note", "Words of the technician.", NoteWords + "|work done|description|arbeiten|durchgefuhrte arbeiten|beschreibung|travaux|travaux effectues"),
            new("checks", Json, "Checks (JSON)", "List of checks as JSON.", "checks"),
            new("proofs", Json, "Proofs (JSON)", "List of proofs as JSON.", "proofs"),
            new("conditions", Json, "Conditions (JSON)", "List of parts looked at as JSON.", "conditions"),
            .. Ends,
        ]),
        new("approval", "Approvals", false,
        [
            Unit,
            .. Moments("asked_at", "Asked for", "When it was asked for", When + "|asked|asked at|requested|requested on|quote date|angefragt|angefragt am|angebotsdatum|demande le|date du devis"),
            new("what", Words, "What for", "What is to be approved.", "what|work|repair|description|subject|was|arbeit|reparatur|betreff|beschreibung|objet|travaux|reparation", "New wash pump (invented)"),
            new("amount", Number, "Amount", "What it costs, in the installation's currency.", "amount|price|cost|quote|sum|total|betrag|preis|kosten|summe|montant|prix|cout", "340"),
            new("fault_code", Code, "Fault", "Fault that the repair is for.", CodeWords, Of: "fault"),
            new("decision", Choice, "Decision", "granted or refused; left out while it is open.", "decision|approved|status|entscheidung|freigabe|genehmigt|decision prise|accord|statut"),
            .. Moments("decided_at", "Decided", "When it was decided", "decided|decided at|decided on|approved on|approval date|entschieden am|genehmigt am|freigabe am|decide le|date de decision|date d accord"),
            new("decided_by", Words, "Decided by", "By whom.", "decided by|approved by|entschieden von|genehmigt von|decide par|approuve par"),
            new("note", Words, "Note", "Words.", NoteWords),
            .. Ends,
        ]),
        new("condition", "Conditions of parts", false,
        [
            Unit,
            .. Moments("at", "When", "When the part was looked at", When + "|looked at|inspected|inspected on|inspection date|gepruft|gepruft am|prufdatum|inspektionsdatum|controle le|date de controle", required: true),
            Position,
            new("grade", Choice, "Condition", "good, worn or poor.", "grade|condition|state|status|wear|zustand|verschleiss|etat|usure", "worn", Required: true),
            new("note", Words, "Note", "Words.", NoteWords),
            .. Ends,
        ]),
        new("heartbeat", "Signs of life", false,
        [
            Unit,
            .. Moments("at", "When", "When the unit was heard", When + "|last seen|seen|heard|last contact|zuletzt gesehen|letzter kontakt|vu le|dernier contact", required: true),
            .. Ends,
        ]),
        .. RegistryImportKinds.All,
    ];

    /// <summary>A kind by its name; null: there is none.</summary>
    /// <param name="name">The name.</param>
    public static ImportKind? Find(string? name) => All.FirstOrDefault(kind => string.Equals(kind.Name, name, StringComparison.OrdinalIgnoreCase));

    /// <summary>The names of all kinds, for people.</summary>
    public static string List { get; } = string.Join(", ", All.Select(kind => kind.Name));

    // A date column may carry the time, or leave it to a column of its own.
    private static ImportField[] Moments(string name, string label, string help, string headings, bool required = false) =>
    [
        new(name, Moment, label, help + ": date and time, or the date alone.", headings, required ? "2026-03-02 22:15" : string.Empty, required),
        new(name + ".time", Clock, label + ", time of day", help + ": the time of day, where the date stands in another column.", headings),
    ];
}
