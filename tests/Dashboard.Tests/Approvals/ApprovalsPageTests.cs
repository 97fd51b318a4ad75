using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using ScottPlot;
using ScottPlot.Plottables;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Approvals;

public sealed class ApprovalsPageTests
{
    [Fact]
    public async Task An_open_approval_has_two_buttons_and_the_readers_name_filled_in()
    {
        IHtmlDocument document = await Pages.ParseAsync("approvals, full");
        IElement form = document.QuerySelector("form.decide")!;
        Assert.Equal("/approvals/4711/decision", form.GetAttribute("action"));
        Assert.Equal("Morning desk", form.QuerySelector("input[name=by]")!.GetAttribute("value"));
        Assert.Equal(["granted", "refused"], form.QuerySelectorAll("button[name=decision]").Select(button => button.GetAttribute("value")));
        Assert.Empty((await Pages.ParseAsync("approvals, empty")).QuerySelectorAll("form.decide"));
    }

    [Fact]
    public void What_waiting_costs_is_told_in_plain_words()
    {
        Assert.Equal(
            "The oven has gone 3.4 days without a wash that counts because of this wait. Each week without a decision costs about 7 days more. "
            + "No other oven of this kitchen can wash. With each month, 12 % chance that the pump suction hose or the pump delivery hose fails too.",
            ApprovalSamples.Open.Sentence);
        Assert.Equal("Decided after 3 days, which cost 2.6 days without a wash.", ApprovalSamples.Decided.Sentence);
        Assert.Equal(
            "1 repair waits for an approval: 3.4 days without a wash so far, and 7 days more in the coming week if nobody decides.",
            ApprovalSentences.Finding([ApprovalSamples.Open]));
        Assert.Equal("No repair waits for an approval.", ApprovalSentences.Finding([]));
        Assert.Equal(
            "1 repair waits for an approval; no wash is missed because of that yet.",
            ApprovalSentences.Finding([ApprovalSamples.Open with { UnwashedDays = 0, UnwashedDaysNextWeek = null }]));
        Assert.Equal("1 day", ApprovalSentences.Days(0.98));
    }

    [Fact]
    public void What_waiting_costs_is_told_in_German_too()
    {
        using IDisposable reader = ReaderPreferences.Use(Texts.TextFileTests.German);
        Assert.Equal(
            "Das Gerät war wegen dieses Wartens schon 3,4 Tage ohne gültige Reinigung. Jede Woche ohne Entscheidung kostet etwa 7 Tage mehr. "
            + "Kein anderes Gerät dieser Küche kann reinigen. Mit jedem Monat 12 % Wahrscheinlichkeit, dass auch Pump suction hose oder Pump delivery hose ausfällt.",
            ApprovalSentences.Cost(ApprovalSamples.Open));
        Assert.Equal("Entschieden nach 3 Tagen; das hat 2,6 Tage ohne Reinigung gekostet.", ApprovalSentences.Cost(ApprovalSamples.Decided));
        Assert.Equal(
            "1 Reparatur wartet auf eine Freigabe: bisher 3,4 Tage ohne Reinigung, und 7 Tage mehr in der nächsten Woche, wenn niemand entscheidet.",
            ApprovalSentences.Finding([ApprovalSamples.Open]));
    }

    // 40 hours in 12 lockouts, of which 1, 2, 3, 4 and 5 fifteenths went to the five kinds: administrative 3, logistic 7, technical 5 of 15.
    [Fact]
    public void Bars_of_delays_stack_to_the_mean_length_of_a_lockout()
    {
        DelaysReport report = ApprovalSamples.Delays with { Rows = [ApprovalSamples.Row("one", 12, 40)] };
        Plot plot = DelayChart.Plot(report, ChartShape.Wide);
        (double From, double To)[] bars = [.. plot.GetPlottables<BarPlot>().SelectMany(bar => bar.Bars).Select(bar => (bar.ValueBase, bar.Value))];
        double days = 40.0 / 12 / 24;
        Assert.Equal(3, bars.Length);
        double[] ends = [days * 3 / 15, days * 10 / 15, days];
        Assert.All(Enumerable.Range(0, 3), i => Assert.Equal(ends[i], bars[i].To, 1e-12));
        Assert.Equal([0, bars[0].To, bars[1].To], bars.Select(bar => bar.From));
        Assert.True(plot.Axes.GetLimits().Right > days);
        Assert.StartsWith("<svg", ChartImage.Inline(DelayChart.Of(report), ChartShape.Narrow), StringComparison.Ordinal);
    }

    [Fact]
    public void Delays_are_told_with_shares_that_a_reader_can_add_up()
    {
        Assert.Equal(
            "In 12 lockouts of the last 90 days ovens stood 3 h 20 min each on average: 33 % of that being worked on, 20 % until somebody asked or decided, "
            + "47 % until a technician or part came. Most went to ‘being worked on’, 33 %.",
            DelayWords.Finding(ApprovalSamples.Row("all", 12, 40), 90));
        Assert.Equal("No unit was locked out of washing in the last 90 days.", DelayWords.Finding(ApprovalSamples.Row("all", 0, 0), 90));
    }

    [Fact]
    public void Every_kind_belongs_to_the_sort_that_lists_it() => Assert.Equal(
        Enum.GetValues<DelayKind>(), DelayWords.Sorts.SelectMany(DelayWords.Kinds).Order());
}
