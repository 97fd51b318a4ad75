using static Washwear.Api.Import.FieldRole;

namespace Washwear.Api.Import;

/// <summary>Kinds of rows that say who and what there is.</summary>
internal static class RegistryImportKinds
{
    private const string OperatorWords = "operator|operator code|operator id|customer|customer no|customer id|client|client no|chain|company|betreiber|betreiber nr|kunde|kunden nr|kundennummer|exploitant|client n|enseigne";
    private const string SiteWords = "site|site code|site id|site no|location|location id|kitchen|kitchen no|store|store no|store id|outlet|branch|restaurant|standort|standort nr|filiale|filial nr|filialnummer|kuche|etablissement|magasin|code site|cuisine|n magasin";
    private const string ModelWords = "model|model code|oven model|machine type|unit model|modell|geratetyp|typ|baureihe|modele|type d appareil|type appareil|type";

    /// <summary>The kinds.</summary>
    public static IReadOnlyList<ImportKind> All { get; } =
    [
        new("operator", "Operators", true,
        [
            new("operator", Code, "Operator", "Your code of the operator, 1 to 64 characters.", OperatorWords + "|code|id|no|nr", "EXAMPLE-OPERATOR", Required: true),
            new("name", Words, "Name", "Name of the operator.", "name|operator name|customer name|company name|client name|betreibername|kundenname|firma|nom|raison sociale|nom du client|nom de l exploitant", "Example canteens (invented)", Required: true),
        ]),
        new("site", "Sites (kitchens)", true,
        [
            new("site", Code, "Site", "Your code of the site, 1 to 64 characters.", SiteWords + "|code|id|no|nr", "EXAMPLE-SITE", Required: true),
            new("operator", Code, "Operator", "Code of its operator.", OperatorWords, "EXAMPLE-OPERATOR", Required: true, Of: "operator"),
            new("name", Words, "Name", "Name of the site.", "name|site name|kitchen name|store name|location name|bezeichnung|standortname|filialname|nom|nom du site|nom du magasin|designation", "Example kitchen (invented)", Required: true),
            new("time_zone", Words, "Time zone", "IANA time zone, such as Europe/Vienna.", "time zone|timezone|tz|zeitzone|fuseau horaire|fuseau", "Europe/Vienna", Required: true),
            new("region", Words, "Region", "Region, for grouping.", "region|area|district|gebiet|bezirk|bundesland|zone|secteur", "North"),
            new("stock_point", Code, "Stock point", "Where its spare parts lie.", "stock point|depot|warehouse|van|lager|lagerort|entrepot|stock"),
            new("water_hardness_mg_per_l", Number, "Water hardness, mg/L", "Total hardness of the feed water, mg/L as calcium carbonate.", "water hardness|hardness|water hardness mg l|wasserharte|harte|durete|durete de l eau|durete eau", "250"),
            new("weekdays", Codes, "Trading weekdays", "Weekdays that are traded: mon tue wed thu fri sat sun, separated by spaces.", "weekdays|trading days|open days|offnungstage|wochentage|jours d ouverture|jours ouvres"),
            new("ends_at", Clock, "Trading day ends", "Wall time at which a trading day ends, HH:mm; 02:00 is two hours after midnight.", "ends at|day ends|trading day ends|tagesende|betriebsschluss|fin de journee"),
        ]),
        new("unit", "Units (ovens)", true,
        [
            new("unit", Code, "Unit (asset tag)", "Your asset tag of the oven, 1 to 64 characters.", "unit|asset|asset tag|asset no|asset nr|asset number|asset id|tag|oven|oven no|oven nr|oven id|machine|machine no|machine id|equipment|equipment no|code|id|no|nr|gerat|gerate nr|geratenummer|inventarnummer|inventar nr|anlagen nr|ofen|ofen nr|appareil|n appareil|equipement|four", "EXAMPLE-OVEN-1", Required: true),
            new("site", Code, "Site", "Code of the site where it stands.", SiteWords, "EXAMPLE-SITE", Required: true, Of: "site"),
            new("model", Code, "Model", "Code of its model.", ModelWords, "EXAMPLE-MODEL", Required: true, Of: "model"),
            new("serial", Words, "Serial number", "Serial number on the rating plate.", "serial|serial number|serial no|serial nr|s n|sn|seriennummer|serien nr|fabriknummer|numero de serie|n de serie|n serie", "EX-000001"),
            new("commissioned_on", Day, "Commissioned on", "Date of commissioning at the site.", "commissioned on|commissioned|commissioning date|installed|installed on|installation date|install date|in service since|inbetriebnahme|inbetriebnahmedatum|aufgestellt am|installiert am|mise en service|date de mise en service|date d installation", "2024-05-06", Required: true),
            new("decommissioned_on", Day, "Left on", "Date on which it left; left out: it is still there.", "decommissioned on|decommissioned|removed on|left on|sold on|out of service|ausser betrieb|stillgelegt am|abgebaut am|hors service|retire le|date de retrait"),
            new("reporting_hours", Number, "Silent after, hours", "Hours after which a unit that was not heard from is silent; left out: 72.", "reporting hours|silent after|meldezeit|silencieux apres", "72"),
            new("records_from", Day, "Part changes known from", "Date from which every part change of the unit has been reported.", "records from|history from|historie ab|historique depuis"),
        ]),
        new("model", "Models", true,
        [
            new("model", Code, "Model", "Your code of the model; one row for each position, programme or fault of it.", ModelWords + "|code", "EXAMPLE-MODEL", Required: true),
            new("name", Words, "Name", "Name of the model.", "name|model name|modellname|bezeichnung|nom|nom du modele|designation", "Example oven, ten trays (invented)"),
            new("kind", Words, "Kind", "Kind of equipment, such as combi oven.", "kind|kind of equipment|equipment kind|gerateart|art|categorie|genre", "combi oven"),
            new("position", Code, "Position", "Code of a maintainable item, such as wash-pump.", "position|component|part|bauteil|teil|piece|composant", "wash-pump"),
            new("position_name", Words, "Name of the position", "Name of that item.", "position name|component name|part name|teilebezeichnung|nom de la piece", "Wash pump"),
            new("failure_modes", Codes, "Failure modes", "Ways in which it fails, separated by semicolons.", "failure modes|fehlerbilder|modes de defaillance", "seized;leaks"),
            new("part_numbers", Codes, "Part numbers", "Part numbers that fit, separated by semicolons.", "part numbers|part number|part no|teilenummern|teilenummer|references|reference piece", "EXAMPLE-4711"),
            new("replace_minutes", Number, "Minutes to replace", "Minutes that replacing it takes.", "replace minutes|minutes to replace|replacement time|tauschzeit|temps de remplacement", "45"),
            new("part_cost", Number, "Price of the part", "In the installation's currency.", "part cost|part price|price|cost|preis|teilepreis|prix|cout", "180"),
            new("programme", Code, "Programme", "Code of a wash programme that the unit reports.", "programme|program|wash programme|programm|waschprogramm|programme de lavage"),
            new("grade", Choice, "Grade of the programme", "rinse, light, standard, intensive or descale.", "grade|programme grade|stufe|niveau"),
            new("minutes", Number, "Usual length, minutes", "Minutes that the programme takes.", "minutes|duration|programme minutes|dauer|duree"),
            new("fault", Code, "Fault code", "Code of a fault that the unit reports.", "fault|fault code|error code|fehlercode|code defaut|code erreur"),
            new("fault_text", Words, "What the fault means", "In words.", "fault text|fault description|error text|meaning|fehlertext|bedeutung|libelle defaut|description du defaut"),
            new("locks_out_washing", YesNo, "Locks out washing", "yes where the unit refuses to wash while the fault is raised.", "locks out washing|wash lockout|blocks washing|sperrt reinigung|bloque le lavage"),
        ]),
    ];
}
