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
        "key", FieldRole.Key, "key|record id|record no|entry id|entry no|job no|job number|job id|ticket|ticket no|ticket number|ticket id|reference|ref|id|vorgang|vorgangsnummer|auftrag|auftragsnummer|auftrags nr|beleg nr|numero intervention|n intervention|n bon|identifiant");

    private static readonly ImportField[] Ends = [Key, new("replaces", FieldRole.Key, "replaces|corrects|ersetzt|remplace")];

    private static readonly ImportField Unit = new(
        "unit", Code, UnitWords, "EXAMPLE-OVEN-1", Required: true, Of: "unit");

    private static readonly ImportField Position = new(
        "position", Code, PositionWords, "wash-pump", Required: true, Of: "position");

    /// <summary>All kinds: what happened first, then who and what there is.</summary>
    public static IReadOnlyList<ImportKind> All { get; } =
    [
        new("wash", false,
        [
            Unit,
            .. Moments("started_at", When + "|start|started|start time|start date|started at|begin|beginn|startzeit|start datum|gestartet|von|from|waschbeginn|debut|heure de debut|date de debut|wash date|waschdatum", required: true),
            .. Moments("ended_at", "end|ended|end time|end date|ended at|finish|finished|finish time|stop time|ende|endzeit|endedatum|beendet|bis|to|waschende|fin|heure de fin|date de fin|until"),
            new("ended_at.minutes", Minutes, "duration|duration min|minutes|length|run time|runtime|dauer|dauer min|laufzeit|minuten|duree|duree min", "95"),
            new("programme", Code, "programme|program|wash programme|wash program|cycle|wash cycle|wash type|programm|waschprogramm|reinigungsprogramm|cycle de lavage|programme de lavage", "W3", Of: "programme"),
            new("grade", Choice, "grade|level|intensity|wash level|wash grade|programme|program|wash type|type|stufe|intensitat|programm|niveau|intensite|cycle", "standard"),
            new("outcome", Choice, "outcome|result|status|state|completed|wash result|ergebnis|resultat|ok|abschluss|etat|statut|issue", "completed", Required: true),
            new("fault_code", Code, CodeWords, Of: "fault"),
            new("detergent_doses", Number, "detergent doses|doses|detergent|tablets|dosierung|dosen|reiniger|reinigungsmittel|reinigungsmittel dosen|reinigertabletten|tabletten|anzahl tabletten|pastilles|detergent utilise|nombre de pastilles", "2"),
            new("detergent_left", YesNo, "detergent left|residue|detergent residue|undissolved|ruckstande|reiniger rest|ruckstand|residus|residu detergent"),
            new("attested_by", Words, "attested by|cleaned by|signed by|signature|visum|gereinigt von|unterschrift|nettoye par|signe par"),
            .. Ends,
        ]),
        new("fault", false,
        [
            Unit,
            .. Moments("raised_at", When + "|raised|raised at|start|began|occurred|occurred at|reported|reported at|reported on|gemeldet|gemeldet am|aufgetreten|von|debut|signale|signale le|survenu le|apparition", required: true),
            .. Moments("cleared_at", "cleared|cleared at|end|ended|reset|reset at|fixed at|fixed on|resolved|resolved at|behoben|behoben am|erledigt am|quittiert|bis|fin|resolu|resolu le|acquitte"),
            new("code", Code, CodeWords, "E21", Required: true, Of: "fault"),
            .. Ends,
        ]),
        new("fault_cleared", false,
        [
            Unit,
            .. Moments("cleared_at", When + "|cleared|cleared at|reset|reset at|resolved|resolved at|behoben|behoben am|quittiert|resolu|resolu le|acquitte", required: true),
            new("code", Code, CodeWords, "E21", Required: true, Of: "fault"),
            .. Ends,
        ]),
        new("part_change", false,
        [
            Unit,
            .. Moments("at", When + "|changed|changed on|replaced|replaced on|replacement date|change date|exchange date|fitted on|getauscht|getauscht am|gewechselt|gewechselt am|wechseldatum|einbaudatum|remplace le|change le|date de remplacement|date intervention|date d intervention", required: true),
            Position,
            new("removed", YesNo, "removed|old part removed|ausgebaut|depose"),
            new("removed.reason", Choice, "reason|removed reason|why|cause of change|reason for change|change reason|grund|wechselgrund|ursache|tauschgrund|motif|raison", "failed"),
            new("removed.failure_mode", Words, "failure mode|mode|failure|defect|schaden|fehlerbild|schadensbild|mode de defaillance|defaillance|type de panne"),
            new("removed.mechanism", Words, "mechanism|failure mechanism|mechanismus|mecanisme"),
            .. Moments("removed.last_seen_good_at", "last seen good|last ok|last inspection|letzte prufung|zuletzt in ordnung|dernier controle"),
            .. Moments("removed.fitted_at", "old part fitted|fitted before|installed before|old part installed|eingebaut seit|pose precedente"),
            new("fitted", YesNo, "fitted|new part fitted|installed|eingebaut|pose|nouvelle piece posee"),
            new("fitted.part_number", Code, "part number|part no|part nr|new part number|item number|item no|sku|article|article no|teilenummer|artikelnummer|artikel nr|teile nr|material nr|reference piece|n piece|code piece|numero piece|ref piece", "EXAMPLE-4711", Of: "part"),
            new("fitted.batch", Words, "batch|lot|batch no|lot no|charge|chargennummer|numero de lot"),
            new("fitted.supplier", Words, "supplier|vendor|lieferant|fournisseur"),
            new("fitted.age_days", Number, "age days|used days|alter tage|age jours"),
            new("fitted.age_washes", Number, "age washes|used washes|alter waschgange|age lavages"),
            .. Ends,
        ]),
        new("meter", false,
        [
            Unit,
            .. Moments("at", When + "|read at|reading date|read on|abgelesen|abgelesen am|ablesedatum|releve le|date de releve", required: true),
            new("washes_total", Number, "washes total|washes|wash counter|wash count|total washes|number of washes|cycles|waschzahler|anzahl waschgange|waschgange|reinigungen|compteur lavages|nombre de lavages|lavages", "812"),
            new("operating_hours_total", Number, "operating hours total|operating hours|hours|hour meter|run hours|hours total|betriebsstunden|stunden|bh|heures|heures de fonctionnement|compteur horaire", "4310"),
            .. Ends,
        ]),
        new("visit", false,
        [
            Unit,
            .. Moments("asked_at", "asked|asked at|requested|requested at|requested on|called|call date|reported|reported on|ordered on|gemeldet|gemeldet am|angefordert|angefordert am|auftragsdatum|demande|demande le|date de demande|appel"),
            .. Moments("arrived_at", When + "|arrived|arrival|arrived at|arrival time|visit date|date of visit|start|work start|service date|ankunft|ankunftszeit|besuch|besuchsdatum|einsatzdatum|arbeitsbeginn|von|arrivee|heure d arrivee|date de visite|date intervention|date d intervention|debut"),
            .. Moments("left_at", "left|left at|departure|departed|end|work end|finished|abfahrt|abreise|arbeitsende|ende|bis|depart|heure de depart|fin|fin d intervention"),
            new("left_at.minutes", Minutes, "duration|duration min|minutes|minutes on site|time on site|length|dauer|dauer min|minuten|duree|duree min", "60"),
            new("technician", Words, "technician|engineer|tech|service engineer|by|done by|worked by|techniker|monteur|servicetechniker|technicien|intervenant", "Technician 1 (invented)"),
            new("outcome", Choice, "outcome|result|status|state|ergebnis|resultat|etat|statut|issue", "repaired_not_proven"),
            new("faults", Codes, "faults|fault codes|" + CodeWords, "E21", Of: "fault"),
            new("finding.position", Code, "finding|found at|faulty part|" + PositionWords, Of: "position"),
            new("finding.failure_mode", Words, "failure mode|mode|defect|fehlerbild|schadensbild|mode de defaillance|type de panne"),
            new("finding.cause", Words, "cause|root cause|reason|ursache|grund|cause racine|motif"),
            new("note", Words, NoteWords + "|work done|description|arbeiten|durchgefuhrte arbeiten|beschreibung|travaux|travaux effectues"),
            new("checks", Json, "checks"),
            new("proofs", Json, "proofs"),
            new("conditions", Json, "conditions"),
            .. Ends,
        ]),
        new("approval", false,
        [
            Unit,
            .. Moments("asked_at", When + "|asked|asked at|requested|requested on|quote date|angefragt|angefragt am|angebotsdatum|demande le|date du devis"),
            new("what", Words, "what|work|repair|description|subject|was|arbeit|reparatur|betreff|beschreibung|objet|travaux|reparation", "New wash pump (invented)"),
            new("amount", Number, "amount|price|cost|quote|sum|total|betrag|preis|kosten|summe|montant|prix|cout", "340"),
            new("fault_code", Code, CodeWords, Of: "fault"),
            new("decision", Choice, "decision|approved|status|entscheidung|freigabe|genehmigt|decision prise|accord|statut"),
            .. Moments("decided_at", "decided|decided at|decided on|approved on|approval date|entschieden am|genehmigt am|freigabe am|decide le|date de decision|date d accord"),
            new("decided_by", Words, "decided by|approved by|entschieden von|genehmigt von|decide par|approuve par"),
            new("note", Words, NoteWords),
            .. Ends,
        ]),
        new("condition", false,
        [
            Unit,
            .. Moments("at", When + "|looked at|inspected|inspected on|inspection date|gepruft|gepruft am|prufdatum|inspektionsdatum|controle le|date de controle", required: true),
            Position,
            new("grade", Choice, "grade|condition|state|status|wear|zustand|verschleiss|etat|usure", "worn", Required: true),
            new("note", Words, NoteWords),
            .. Ends,
        ]),
        new("heartbeat", false,
        [
            Unit,
            .. Moments("at", When + "|last seen|seen|heard|last contact|zuletzt gesehen|letzter kontakt|vu le|dernier contact", required: true),
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
    private static ImportField[] Moments(string name, string headings, bool required = false) =>
    [
        new(name, Moment, headings, required ? "2026-03-02 22:15" : string.Empty, required),
        new(name + ".time", Clock, headings),
    ];
}
