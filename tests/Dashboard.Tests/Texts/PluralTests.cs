using System.Text.RegularExpressions;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Texts;

/// <summary>What is one is said of one: every text of every language with the number 1 in its places.</summary>
public sealed partial class PluralTests
{
    // Nouns of several. A new one of a text belongs here too.
    private static readonly Dictionary<string, string> Several = new()
    {
        ["en"] = "alerts|ages|batches|causes|cells|characters|close-outs|codes|columns|days|deadlines|decisions|degrees|drafts|entries|failures|faults|files|forecasts|groups|hours|"
            + "jobs|keys|kinds|kitchens|lines|links|lockouts|minutes|models|months|openings|operators|ovens|pairs|parts|people|photos|points|positions|quarters|records|repairs|repeats|"
            + "replacements|rows|seconds|sheets|sites|steps|suppliers|times|tries|units|visits|washes|weeks|years",
        ["de"] = "Abschlüsse|Arbeiten|Arten|Ausfälle|Ausfällen|Austausche|Betreibern|Betriebsstunden|Betriebstage|Betriebstagen|Chargen|Dateien|Einbaustellen|Einsätze|Einsätzen|Einträge|"
            + "Einträgen|Entwürfe|Fotos|Freiheitsgraden|Geräte|Geräten|Gerätejahre|Gruppen|Jahre|Jahren|Küchen|Lieferanten|Meldungen|Minuten|Modelle|Modellen|Monate|Monaten|Nächte|Öffnungen|"
            + "Paare|Paaren|Personen|Quartale|Quartalen|Reinigungen|Reinigungsversuche|Reparaturen|Sachen|Schritte|Schritten|Sekunden|Spalten|Sperren|Störungen|Störungscodes|Stunden|Tage|"
            + "Tagen|Teile|Teilen|Teilejahren|Teilenummern|Ursachen|Vorhersagen|Wiederholungen|Wochen|Zeichen|Zeilen|Zellen",
    };

    // Numbers that are measured or reckoned never read '1': theirs are three digits, such as 1.00. Where a whole number has the same name elsewhere, the text is named.
    private static readonly string[] Measured =
    [
        "expected", "mean", "rate", "fleet", "ratio", "times", "range", "change", "points", "years", "shape", "hours", "age", "money", "error", "each", "raw", "share", "statistic",
    ];

    private static readonly string[] MeasuredHere =
    [
        "FailureDecisions/costs", "FailurePareto/chart/days_and_failures", "Failures/records/days_old", "PlanParts/best/replace_days", "PlanParts/companions/openings",
        "PlanParts/companions/saves", "UnitHistory/meter_hours", "UnitHistory/meter_washes", "VisitSheets/worth/saved", "WhatIf/form/supplier_now", "WhatIf/help/unwashed",
    ];

    // Numbers that are never 1: the same for everybody, such as the fewest characters of a password, or told only from 2 on.
    private static readonly string[] Fixed =
    [
        "Account/password_rule", "CleaningSentences/rule/by_hardness", "Compliance/trend/few_units", "EarlySigns/ended/usual", "EarlySigns/too_few_of_programme", "EarlySigns/too_few_washes",
        "FailureDecisions/more_than_five", "FailureRecurrence/chart/drawn", "FailureRecurrence/table/caption", "Month/page/longest_lockouts_caption", "Remarks/known/few_failures",
        "Remarks/known/not_tested_bands", "Remarks/known/one_age", "Remarks/known/rough_p", "Repairs/technicians/none_named", "Repairs/technicians/order", "Repairs/technicians/order_apart",
        "SignIn/join_troubles/password_too_long", "SignIn/join_troubles/password_too_short", "SignIn/password_rule", "Today/planner/visits", "Units/signs/numbers_of_last",
        "Visits/left_out/too_many_photos", "ImportGuesses/notes/workbook_of_several", "PartLifeGroups/modes/steps_some", "VisitSheets/of_fault/raised_last_year", "Shell/lists/at_once",
    ];

    // Places of names, before what is a verb or belongs to another noun.
    private static readonly string[] Names = ["unit", "site", "lead"];

    public static TheoryData<string> Languages() => [.. ReaderPreferences.Languages.Select(language => language.Code)];

    [Theory]
    [MemberData(nameof(Languages))]
    public void One_is_never_said_in_the_plural(string language)
    {
        var wrong = new Regex($@"(?<![\d.,/]|\w)1 (?:different |earlier |owed |operating |other |trading |abgeschlossenen |anderen |arbeitende |beobachteten |fälligen |früheren |gezeigten |verlangten |verschiedenen )?({Several[language]})\b", RegexOptions.CultureInvariant);
        string[] offenders =
        [
            .. TextFileTests.Files.Where(file => !file.EndsWith("Scripts", StringComparison.Ordinal))
                .SelectMany(file => TextFileTests.Texts(file, language).Select(text => (Key: file + "/" + text.Key, Said: WithOne(file + "/" + text.Key, text.Value))))
                .Where(text => wrong.IsMatch(text.Said)).Select(text => $"{text.Key}: {text.Said}"),
        ];
        Assert.True(offenders.Length == 0, string.Join('\n', offenders));
    }

    [Theory]
    [InlineData("in the last {days|day|{days} days}", "1", "in the last day")]
    [InlineData("in the last {days|day|{days} days}", "12", "in the last 12 days")]
    [InlineData("{days} {days|Tag|Tagen} und {days|Tag|Tage}", "1", "1 Tag und Tag")]
    [InlineData("{days} {days|day|days}", "1.00", "1.00 days")]
    public void A_text_agrees_with_each_of_its_numbers(string text, string days, string said) => Assert.Equal(said, Fill.In(text, ("days", days)));

    [Theory]
    [MemberData(nameof(Languages))]
    public void Texts_of_scripts_which_choose_by_one_number_alone_hold_no_other_choice(string language) => Assert.All(
        TextFileTests.Files.Where(file => file.EndsWith("Scripts", StringComparison.Ordinal)).SelectMany(file => TextFileTests.Texts(file, language).Values),
        text => Assert.DoesNotMatch(@"\{[a-z_]+\|", text));

    private static string WithOne(string key, string text) => Fill.In(
        text,
        [
            .. Place().Matches(text).Select(match => match.Groups[1].Value).Distinct()
                .Select(name => (name, name == "count" && key.EndsWith("other", StringComparison.Ordinal) ? "2" : Names.Contains(name) ? "North" : Is(Fixed, key) ? "2" : Measured.Contains(name) || Is(MeasuredHere, key) ? "1.00" : "1")),
        ]);

    // A text that depends on a number is two of the file's.
    private static bool Is(string[] keys, string key) => keys.Contains(key) || keys.Contains(key[..key.LastIndexOf('/')]);

    [GeneratedRegex(@"\{([a-z_]+)[}|]")]
    private static partial Regex Place();
}
