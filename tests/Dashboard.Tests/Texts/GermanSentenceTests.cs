using AngleSharp.Html.Dom;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Sites;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests.Texts;

/// <summary>Sentences that are put together read as German does: verbs, cases and capitals in their places.</summary>
public sealed class GermanSentenceTests
{
    private static readonly Instant Now = Instant.FromUtc(2025, 11, 26, 17, 0);

    private static readonly SiteCalendar Calendar = new(
        DateTimeZoneProviders.Tzdb["Europe/Vienna"],
        [IsoDayOfWeek.Monday, IsoDayOfWeek.Tuesday, IsoDayOfWeek.Wednesday, IsoDayOfWeek.Thursday, IsoDayOfWeek.Friday, IsoDayOfWeek.Saturday],
        new LocalTime(2, 0));

    [Theory]
    [InlineData(CleaningState.Clean, Cause.InOrder, "Die letzte gültige Reinigung endete vor 2 Tagen; die nächste ist fällig: Mi, 26. Nov. 2025, 18:00.")]
    [InlineData(CleaningState.Overdue, Cause.NobodyStarted, "Keine Reinigung gestartet: seit 3 Tagen 4 h überfällig; die letzte gültige Reinigung endete vor 2 Tagen. Am Zug: die Küche.")]
    [InlineData(CleaningState.LockedOut, Cause.LockoutWaitingPart, "Gesperrt, wartet auf Teil; die letzte gültige Reinigung endete vor 2 Tagen. Am Zug: der Lieferant.")]
    [InlineData(CleaningState.Closed, Cause.SiteClosed, "Die Küche ist jetzt geschlossen; die letzte gültige Reinigung endete vor 2 Tagen.")]
    public void A_unit_says_how_it_stands(CleaningState state, Cause cause, string sentence) => InGerman(() => Assert.Equal(
        sentence,
        CleaningSentences.Status(
            new CleaningStatus(Now, state, cause, null, null, null, Now - Duration.FromDays(2), Now, Now, Duration.FromHours(76), null), "Europe/Vienna")));

    [Fact]
    public void A_rule_is_a_part_of_a_sentence() => InGerman(() =>
    {
        Assert.Equal(
            "mindestens eine Standardreinigung an jedem Betriebstag, Nachfrist 4 h",
            CleaningSentences.Rule(new CleaningRule("daily", ProgrammeGrade.Standard, new EveryTradingDays(1), Duration.FromHours(4))));
        Assert.Equal(
            "eine Entkalkung nach je 60 anderen Reinigungen, ohne Nachfrist",
            CleaningSentences.Rule(new CleaningRule("scale", ProgrammeGrade.Descale, new EveryWashes(60), Duration.Zero)));
    });

    [Fact]
    public void A_noun_keeps_its_capital_within_a_sentence() => InGerman(() =>
    {
        Assert.Equal("überfällig", CleaningWords.InSentence(CleaningState.Overdue));
        Assert.Equal("Abbruch durch eine Störung", CleaningWords.InSentence(Cause.StoppedByFault));
        Assert.Equal("Küche", CleaningWords.InSentence(Mover.Kitchen));
    });

    [Theory]
    [InlineData(1, "heute Nacht vor 02:00 (Do, 27. Nov.)")]
    [InlineData(3, "Freitagnacht vor 02:00 (Sa, 29. Nov.)")]
    public void A_limit_is_told_by_the_night_that_it_ends(int days, string words) =>
        InGerman(() => Assert.Equal(words, KitchenClock.Before(Calendar.StartOf(new LocalDate(2025, 11, 26).PlusDays(days)), Now, Calendar)));

    [Theory]
    [InlineData(22, "gestern Abend um 23:10")]
    [InlineData(0, "letzte Nacht um 01:10")]
    public void Evening_and_night_have_a_word_each(int utcHour, string words) => InGerman(() => Assert.Equal(
        words, KitchenClock.At(Instant.FromUtc(2025, 11, utcHour == 0 ? 26 : 25, utcHour, 10), Now, Calendar)));

    [Fact]
    public void A_record_is_told_with_its_durations_after_their_prepositions() => InGerman(() =>
    {
        Assert.Equal("Reinigung „Night wash“ durch eine Störung abgebrochen (flow-low) nach 12 min.", HistorySentences.Wash("night-wash", WashOutcome.StoppedByFault, 12, "flow-low", null, null));
        Assert.Equal("Standardreinigung abgeschlossen; Reiniger blieb ungelöst zurück.", HistorySentences.Wash("standard", WashOutcome.Completed, null, null, true, null));
        Assert.Equal("Freigabe erteilt von Anna nach 3 Tagen.", HistorySentences.Approval(null, null, true, "Anna", 72));
    });

    [Fact]
    public void A_programme_that_is_called_by_a_number_is_no_grade() =>
        Assert.Equal("3 wash completed.", HistorySentences.Wash("3", WashOutcome.Completed, null, null, null, null));

    [Fact]
    public void A_month_puts_its_verb_behind_it() => InGerman(() =>
    {
        var stretch = new WashingStretch(Samples.AsOf, Samples.AsOf, 3, 200, 180, new(0.9, 0.85, 0.94, 0.95, "Wilson"), null, 1000);
        Assert.Equal(
            "Im Oktober 2026 waren 90 % der 200 fälligen Reinigungen rechtzeitig. Kein Gerät war für die Reinigung gesperrt. Keine Reparatur endete. 2 Geräte meldeten sich eine Zeit lang nicht.",
            MonthSentences.Finding("Oktober 2026", true, stretch, [], [], 2));
        Assert.Equal(
            "Im laufenden Oktober 2026 waren 180 von 200 fälligen Reinigungen rechtzeitig (90 %). Das ist besser als im Vormonat, und mehr als Zufall: +5,0 Prozentpunkte (+1,0 bis +9,0).",
            OperatorSentences.Change(stretch, new OnTimeTrend(6, 200, 0.85, 0.9, new(0.05, 0.01, 0.09, 0.95, "t"), []), WashingCompared.MonthSoFar, "Oktober 2026"));
    });

    [Fact]
    public void An_operator_is_told_in_the_dative() => InGerman(() => Assert.Equal(
        "Von 5 Geräten in 2 Küchen: 1 kann sich nicht reinigen und 2 melden sich nicht; das betrifft 2 Küchen.",
        OperatorSentences.Finding(
            new Dictionary<CleaningState, int> { [CleaningState.LockedOut] = 1, [CleaningState.Silent] = 2, [CleaningState.Clean] = 2 }, 2, 2)));

    // The edge of an oven is coloured by a class that once was made of its words.
    [Fact]
    public async Task An_oven_is_marked_alike_in_each_language()
    {
        static string?[] Marks(IHtmlDocument page) => [.. page.QuerySelectorAll("li.oven").Select(oven => oven.ClassName)];
        string?[] english = Marks(await Pages.ParseAsync("kitchen, full"));
        Assert.NotEmpty(english);
        Assert.All(english, mark => Assert.StartsWith("oven oven-", mark, StringComparison.Ordinal));
        Assert.Equal(english, Marks(await Pages.ParseAsync("kitchen, full", TextFileTests.German)));
    }

    private static void InGerman(Action told)
    {
        using IDisposable reader = ReaderPreferences.Use(TextFileTests.German);
        told();
    }
}
