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
        new("operator", true,
        [
            new("operator", Code, OperatorWords + "|code|id|no|nr", "EXAMPLE-OPERATOR", Required: true),
            new("name", Words, "name|operator name|customer name|company name|client name|betreibername|kundenname|firma|nom|raison sociale|nom du client|nom de l exploitant", "Example canteens (invented)", Required: true),
        ]),
        new("site", true,
        [
            new("site", Code, SiteWords + "|code|id|no|nr", "EXAMPLE-SITE", Required: true),
            new("operator", Code, OperatorWords, "EXAMPLE-OPERATOR", Required: true, Of: "operator"),
            new("name", Words, "name|site name|kitchen name|store name|location name|bezeichnung|standortname|filialname|nom|nom du site|nom du magasin|designation", "Example kitchen (invented)", Required: true),
            new("time_zone", Words, "time zone|timezone|tz|zeitzone|fuseau horaire|fuseau", "Europe/Vienna", Required: true),
            new("region", Words, "region|area|district|gebiet|bezirk|bundesland|zone|secteur", "North"),
            new("stock_point", Code, "stock point|depot|warehouse|van|lager|lagerort|entrepot|stock"),
            new("water_hardness_mg_per_l", Number, "water hardness|hardness|water hardness mg l|wasserharte|harte|durete|durete de l eau|durete eau", "250"),
            new("weekdays", Codes, "weekdays|trading days|open days|offnungstage|wochentage|jours d ouverture|jours ouvres"),
            new("ends_at", Clock, "ends at|day ends|trading day ends|tagesende|betriebsschluss|fin de journee"),
        ]),
        new("unit", true,
        [
            new("unit", Code, "unit|asset|asset tag|asset no|asset nr|asset number|asset id|tag|oven|oven no|oven nr|oven id|machine|machine no|machine id|equipment|equipment no|code|id|no|nr|gerat|gerate nr|geratenummer|inventarnummer|inventar nr|anlagen nr|ofen|ofen nr|appareil|n appareil|equipement|four", "EXAMPLE-OVEN-1", Required: true),
            new("site", Code, SiteWords, "EXAMPLE-SITE", Required: true, Of: "site"),
            new("model", Code, ModelWords, "EXAMPLE-MODEL", Required: true, Of: "model"),
            new("serial", Words, "serial|serial number|serial no|serial nr|s n|sn|seriennummer|serien nr|fabriknummer|numero de serie|n de serie|n serie", "EX-000001"),
            new("commissioned_on", Day, "commissioned on|commissioned|commissioning date|installed|installed on|installation date|install date|in service since|inbetriebnahme|inbetriebnahmedatum|aufgestellt am|installiert am|mise en service|date de mise en service|date d installation", "2024-05-06", Required: true),
            new("decommissioned_on", Day, "decommissioned on|decommissioned|removed on|left on|sold on|out of service|ausser betrieb|stillgelegt am|abgebaut am|hors service|retire le|date de retrait"),
            new("reporting_hours", Number, "reporting hours|silent after|meldezeit|silencieux apres", "72"),
            new("records_from", Day, "records from|history from|historie ab|historique depuis"),
        ]),
        new("model", true,
        [
            new("model", Code, ModelWords + "|code", "EXAMPLE-MODEL", Required: true),
            new("name", Words, "name|model name|modellname|bezeichnung|nom|nom du modele|designation", "Example oven, ten trays (invented)"),
            new("kind", Words, "kind|kind of equipment|equipment kind|gerateart|art|categorie|genre", "combi oven"),
            new("position", Code, "position|component|part|bauteil|teil|piece|composant", "wash-pump"),
            new("position_name", Words, "position name|component name|part name|teilebezeichnung|nom de la piece", "Wash pump"),
            new("failure_modes", Codes, "failure modes|fehlerbilder|modes de defaillance", "seized;leaks"),
            new("part_numbers", Codes, "part numbers|part number|part no|teilenummern|teilenummer|references|reference piece", "EXAMPLE-4711"),
            new("replace_minutes", Number, "replace minutes|minutes to replace|replacement time|tauschzeit|temps de remplacement", "45"),
            new("part_cost", Number, "part cost|part price|price|cost|preis|teilepreis|prix|cout", "180"),
            new("programme", Code, "programme|program|wash programme|programm|waschprogramm|programme de lavage"),
            new("grade", Choice, "grade|programme grade|stufe|niveau"),
            new("minutes", Number, "minutes|duration|programme minutes|dauer|duree"),
            new("fault", Code, "fault|fault code|error code|fehlercode|code defaut|code erreur"),
            new("fault_text", Words, "fault text|fault description|error text|meaning|fehlertext|bedeutung|libelle defaut|description du defaut"),
            new("locks_out_washing", YesNo, "locks out washing|wash lockout|blocks washing|sperrt reinigung|bloque le lavage"),
        ]),
        new("rule", true,
        [
            new("rule", Code, "rule|rule code|rule id|regel|regel nr|reinigungsregel|regle|code|id|no|nr", "EXAMPLE-RULE", Required: true),
            new("grade", Choice, "grade|wash grade|level|stufe|reinigungsstufe|niveau", "standard", Required: true),
            new("every_trading_days", Number, "every trading days|trading days|every days|days|interval days|betriebstage|alle betriebstage|alle tage|tage|jours", "1"),
            new("every_hours", Number, "every hours|hours|interval hours|alle stunden|stunden|heures"),
            new("every_washes", Number, "every washes|washes|other washes|alle reinigungen|reinigungen|lavages"),
            new("every_operating_hours", Number, "every operating hours|operating hours|betriebsstunden|alle betriebsstunden|heures de fonctionnement"),
            new("grace_hours", Number, "grace hours|grace|grace h|nachfrist|nachfrist stunden|karenz|tolerance heures|delai de grace", "4", Required: true),
            new("basis", Words, "basis|source|reason|comes from|food code|grundlage|quelle|begrundung|base|fondement", "House rule 7 (invented)", Required: true),
            new("scope.operator", Code, OperatorWords, Of: "operator"),
            new("scope.site", Code, SiteWords, Of: "site"),
            new("scope.model", Code, ModelWords, Of: "model"),
            new("scope.unit", Code, "unit|asset|asset tag|oven|machine|gerat|ofen|appareil", Of: "unit"),
            new("valid_from", Day, "valid from|from|gultig ab|ab|von|valable des|a partir du"),
            new("valid_to", Day, "valid to|until|to|gultig bis|bis|valable jusqu au|jusqu au"),
        ]),
    ];
}
