using Washwear.Api.Import;
using Washwear.Api.Import.Guessing;
using Washwear.Api.Sheets;

namespace Washwear.Api.Tests.Import;

/// <summary>Invented sheets as people keep them: what their columns are taken for.</summary>
public sealed class MappingGuesserTests
{
    /// <summary>Kind, the sheet with | between cells and ¶ between rows, and the field of each column.</summary>
    public static TheoryData<string, string, string> Sheets => new()
    {
        { "wash", "Asset Tag|Start|End|Programme|Result¶OVEN-0001|2026-03-02 22:15|2026-03-02 23:50|W3|completed", "unit,started_at,ended_at,programme,outcome" },
        { "wash", "oven_no|wash date|time|duration (min)|status|signed by¶OVEN 1|02/03/2026|10:15 PM|95|OK|A.B.¶OVEN 1|13/03/2026|9:05 PM|97|failed|A.B.", "unit,started_at,started_at.time,ended_at.minutes,outcome,attested_by" },
        { "wash", "Geräte-Nr.|Datum|Beginn|Ende|Waschprogramm|Ergebnis|Bemerkung¶OVEN-0001|02.03.2026|22:15|23:50|W3|fertig|", "unit,started_at,started_at.time,ended_at.time,programme,outcome," },
        { "wash", "N° appareil|Date|Heure de début|Heure de fin|Programme|Statut|Pastilles¶OVEN-0001|02/03/2026|22h15|23h50|W1|terminé|2¶OVEN-0002|14/03/2026|22h15|23h50|W1|interrompu|2", "unit,started_at,started_at.time,ended_at.time,programme,outcome,detergent_doses" },
        { "wash", "Machine|When|What happened|Cycle type¶OVEN-0001|3 Mar 2026 22:15|Done|Standard¶OVEN-0002|4 Mar 2026 22:15|Aborted|Light", "unit,started_at,outcome,grade" },
        { "fault", "EQUIPMENT_ID;ignored|ERROR CODE|RAISED AT|RESET AT¶OVEN-0001|E21|2026-03-02T22:15:00Z|", "unit,code,raised_at,cleared_at" },
        { "fault", "Anlage|Fehlercode|gemeldet am|behoben am|Monteur¶INV107919|E 21|02.03.26 07:30|03.03.26 11:00|M. Beispiel", "unit,code,raised_at,cleared_at," },
        { "fault", "Four|Code erreur|Signalé le|Résolu le¶OVEN-0003|E30|2 mars 2026 8h05|3 mars 2026", "unit,code,raised_at,cleared_at" },
        { "part_change", "Date|Oven|Component|Part no.|Reason|Batch¶2026-03-02|OVEN-0001|Wash pump|INV-WP-10|broken|B7", "at,unit,position,fitted.part_number,removed.reason,fitted.batch" },
        { "part_change", "Gerät|getauscht am|Bauteil|Teilenummer|Grund|Schadensbild|Lieferant¶OVEN-0002|14.03.2026|wash pump|INV-WP-10|Wartung|undicht|Beispiel GmbH", "unit,at,position,fitted.part_number,removed.reason,removed.failure_mode,fitted.supplier" },
        { "part_change", "Appareil|Date d'intervention|Pièce|Réf. pièce|Motif¶OVEN-0003|14/03/2026|door-gasket|INV-DG-10|préventif", "unit,at,position,fitted.part_number,removed.reason" },
        { "visit", "Job no|Unit|Requested|Arrival|Departure|Engineer|Fault code|Outcome|Work done¶J-1|OVEN-0001|2026-03-02 08:00|2026-03-03 10:00|2026-03-03 11:30|T. Example|E21|Repaired|changed pump", "key,unit,asked_at,arrived_at,left_at,technician,faults,outcome,note" },
        { "visit", "Auftragsnummer|Inventarnummer|Einsatzdatum|Ankunft|Abfahrt|Techniker|Fehler|Ursache|Arbeiten¶A1|OVEN-0001|14.03.2026|10:00|11:30|T1|E21|Kalk|Pumpe getauscht", "key,unit,arrived_at,arrived_at.time,left_at.time,technician,faults,finding.cause,note" },
        { "meter", "unit|read on|wash counter|Betriebsstunden¶OVEN-0001|2026-03-02|812|4.310,5", "unit,at,washes_total,operating_hours_total" },
        { "condition", "Equipment|Inspection date|Part|Wear¶OVEN-0001|2026-03-02|door gasket|worn", "unit,at,position,grade" },
        { "site", "Filialnummer|Betreiber|Bezeichnung|Zeitzone|Wasserhärte (mg/l)¶S9|brindemoor|Küche Nord|Europe/Vienna|250,5", "site,operator,name,time_zone,water_hardness_mg_per_l" },
        { "unit", "Asset no|Location|Model|Serial No.|Installed on|Colour¶OVEN-0010|S001|INV-LARGE|X1|2025-01-13|grey", "unit,site,model,serial,commissioned_on," },
        { "unit", "N° de série|Établissement|Modèle|Mise en service|Code¶X2|S001|INV-LARGE|13/01/2025|OVEN-0011", "serial,site,model,commissioned_on,unit" },
        { "operator", "Kunden-Nr|Firma¶K1|Beispiel Kantinen", "operator,name" },
    };

    [Theory]
    [MemberData(nameof(Sheets))]
    public async Task Columns_are_known_by_heading_and_cells(string kind, string sheet, string fields)
    {
        Guess guess = await GuessAsync(kind, sheet.Replace(";ignored", string.Empty, StringComparison.Ordinal));

        Assert.Equal(fields.Split(','), guess.Columns.Select(column => column.Field ?? string.Empty));
        Assert.All(guess.Columns, column => Assert.NotEmpty(column.Why));
        Assert.DoesNotContain(guess.Questions, question => question.Blocks);
    }

    [Fact]
    public async Task Every_sheet_of_a_template_is_known_without_doubt()
    {
        foreach (ImportKind kind in ImportKinds.All)
        {
            string heads = string.Join('|', kind.Fields.Select(field => field.Name));
            string example = string.Join('|', kind.Fields.Select(field => field.Example));

            Guess guess = await GuessAsync(kind.Name, heads + "¶" + example);

            Assert.Equal(kind.Fields.Select(field => field.Name), guess.Columns.Select(column => column.Field));
        }
    }

    [Theory]
    [InlineData("02/03/2026|05/03/2026", null)]
    [InlineData("02/03/2026|13/03/2026", DateOrder.DayFirst)]
    [InlineData("02/03/2026|03/13/2026", DateOrder.MonthFirst)]
    [InlineData("13/03/2026|03/13/2026", null)]
    [InlineData("02.03.2026|05.03.2026", DateOrder.DayFirst)]
    public async Task Day_and_month_are_asked_for_unless_a_date_decides(string dates, DateOrder? order)
    {
        string[] two = dates.Split('|');
        Guess guess = await GuessAsync("heartbeat", $"unit|at¶OVEN-0001|{two[0]}¶OVEN-0001|{two[1]}");

        Assert.Equal(order, guess.Mapping.DateOrder);
        Assert.Equal(order is null && dates.Contains("02/03", StringComparison.Ordinal), guess.Questions.Any(question => question.About == "date_order" && question.Text.Contains("02/03/2026", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task What_is_missing_is_asked_for_and_may_be_fixed_for_all_rows()
    {
        Guess guess = await GuessAsync("wash", "unit|date¶OVEN-0001|2026-03-02 22:00");
        Assert.Contains(guess.Questions, question => question is { About: "outcome", Blocks: true });

        Guess fixedNow = await ApplyAsync("unit|date¶OVEN-0001|2026-03-02 22:00", guess.Mapping with { Fixed = [new("outcome", "completed")] });
        Assert.Empty(fixedNow.Questions);
    }

    [Fact]
    public async Task Words_that_nobody_knows_are_asked_for_and_known_ones_are_shown()
    {
        Guess guess = await GuessAsync("wash", "unit|date|result¶OVEN-0001|2026-03-02 22:00|durchgelaufen¶OVEN-0001|2026-03-03 22:00|so la la");

        Assert.Equal([("durchgelaufen", "completed"), ("so la la", null)], guess.Mapping.Words!.Select(word => (word.Word, word.Value)));
        Assert.Contains(guess.Questions, question => question.Text.Contains("so la la", StringComparison.Ordinal) && !question.Blocks);
        Assert.False(guess.IsSure);
    }

    [Theory]
    [InlineData("812|1,234", null, true)]
    [InlineData("812,5|1,234", DecimalMark.Comma, false)]
    [InlineData("812.5|1,234", DecimalMark.Point, false)]
    [InlineData("1.234,5|12", DecimalMark.Comma, false)]
    [InlineData("812|1234", null, false)]
    public async Task The_decimal_mark_is_asked_for_only_where_it_is_open(string numbers, DecimalMark? mark, bool asked)
    {
        string[] two = numbers.Split('|');
        Guess guess = await GuessAsync("meter", $"unit|at|hours¶OVEN-0001|2026-03-02|{two[0]}¶OVEN-0001|2026-03-03|{two[1]}");

        Assert.Equal(mark, guess.Mapping.DecimalMark);
        Assert.Equal(asked, guess.Questions.Any(question => question.About == "decimal_mark"));
    }

    [Fact]
    public async Task Headings_are_found_below_titles()
    {
        Guess guess = await GuessAsync("wash", "Wash log of the north kitchen||¶printed|2026-03-05|¶Oven|Date|Result¶OVEN-0001|2026-03-02 22:00|ok", out Func<SheetProfile> profile);

        Assert.Equal(3, profile().HeadingRow);
        Assert.Equal(["unit", "started_at", "outcome"], guess.Columns.Select(column => column.Field));
    }

    [Fact]
    public async Task A_mapping_is_applied_by_headings_whatever_their_case_and_order_and_says_what_is_missing()
    {
        ImportMapping mapping = (await GuessAsync("wash", "Oven|Date|Result|Hand¶OVEN-0001|2026-03-02 22:00|ok|x")).Mapping;

        Guess same = await ApplyAsync("RESULT|oven|date_|new one¶ok|OVEN-0001|2026-03-02 22:00|1", mapping);
        Guess other = await ApplyAsync("oven|date¶OVEN-0001|2026-03-02 22:00", mapping);

        Assert.Equal(["outcome", "unit", "started_at", null], same.Columns.Select(column => column.Field));
        Assert.Empty(same.Questions);
        Assert.Contains(other.Questions, question => question.Blocks && question.Text.Contains("'Result'", StringComparison.Ordinal));
    }

    internal static Task<Guess> GuessAsync(string kind, string sheet) => GuessAsync(kind, sheet, out _);

    internal static async Task<Guess> ApplyAsync(string sheet, ImportMapping mapping) =>
        new MappingGuesser(ImportKinds.Find(mapping.Kind)!, await SheetProfile.LookAsync(Rows(sheet), CancellationToken.None), Fleet.Codes).Apply(mapping);

    internal static IAsyncEnumerable<SheetRow> Rows(string sheet) =>
        sheet.Split('¶').Select((row, i) => new SheetRow(i + 1, [.. row.Split('|').Select(SheetCell.OfText)])).ToAsyncEnumerable();

    private static Task<Guess> GuessAsync(string kind, string sheet, out Func<SheetProfile> profile)
    {
        SheetProfile? looked = null;
        profile = () => looked!;
        return MakeAsync();

        async Task<Guess> MakeAsync()
        {
            looked = await SheetProfile.LookAsync(Rows(sheet), CancellationToken.None);
            return new MappingGuesser(ImportKinds.Find(kind)!, looked, Fleet.Codes).Make();
        }
    }
}
