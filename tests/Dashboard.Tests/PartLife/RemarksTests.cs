using Washwear.Analytics.PartLife;
using Washwear.Analytics.Rates;
using Washwear.Analytics.Repeats;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Tests.Texts;

namespace Washwear.Dashboard.Tests.PartLife;

/// <summary>What the mathematics says reaches each reader in his language; its remarks are those of real results, so that another wording is found here.</summary>
public sealed class RemarksTests
{
    private static readonly Lives Complete = Of(days => days.FailedAt(100).FailedAt(210).FailedAt(290).FailedAt(400).FailedAt(520));

    private static readonly Lives Censored = Of(days =>
    {
        for (int i = 1; i <= 24; i++)
        {
            days.FailedAt(40 * i, mode: i % 2 == 0 ? "leaks" : "jams").StillRunningAt(45 * i);
        }
    });

    // Weak parts that fail young beside strong ones.
    private static readonly Lives Mixed = Of(days =>
    {
        for (int i = 1; i <= 30; i++)
        {
            days.FailedAt(10 + i).FailedAt(1500 + (9 * i));
        }
    });

    private static readonly Lives Looked = Of(days => days.FailedBetween(100, 200, mode: "leaks").FailedBetween(150, 300, mode: "jams").FailedBetween(250, 400).FailedAt(380));

    private static readonly Lives Poor = Of(days => days.FailedAt(100).FailedAt(200).FailedAt(300).FailedAt(310).SwappedWhenPoorAt(250).SwappedWhenPoorAt(260).StillRunningAt(400));

    public static TheoryData<string> Said() => [.. All().Distinct().Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Said))]
    public void A_remark_is_told_in_the_readers_language_with_its_values(string remark)
    {
        Assert.Equal(remark, Remarks.Told(remark));
        using (ReaderPreferences.Use(TextFileTests.German))
        {
            string told = Remarks.Told(remark);
            Assert.NotEqual(remark, told);
            Assert.DoesNotContain("{", told, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Values_are_written_in_the_readers_way()
    {
        using (ReaderPreferences.Use(TextFileTests.German))
        {
            Assert.Equal(
                "Die charakteristische Lebensdauer (1 234 Tage) liegt jenseits des ältesten gesehenen Teils (88,5): spätere Zahlen sind fortgeschrieben.",
                Remarks.Told("The scale (1234 days) lies beyond the oldest part seen (88.5): later figures are extrapolated.").Replace('\u00a0', ' ').Replace('\u202f', ' '));
            Assert.Equal("Something new.", Remarks.Told("Something new."));
        }
    }

    private static Lives Of(Action<LivesBuilder> add)
    {
        var days = new LivesBuilder("days");
        add(days);
        return days.Build();
    }

    private static IEnumerable<string> All() =>
    [
        .. OfLives(Complete), .. OfLives(Censored), .. OfLives(Mixed), .. OfLives(Looked), .. OfLives(Poor),
        .. OfLives(Of(days => days.FailedAt(100).StillRunningAt(300).Exclude("two parts were fitted at the same instant", 7))),
        .. OfLives(Of(days => days.StillRunningAt(300).StillRunningAt(500))),
        .. OfLives(Of(days => days.FailedAt(300).FailedAt(300).FailedAt(300))),
        .. OfLives(Of(days => days.FailedAt(100).FailedAt(110).FailedAt(120).StillRunningAt(90).StillRunningAt(95).StillRunningAt(80).StillRunningAt(60))),
        .. OfLives(Of(days => days.FailedAt(100, 20).FailedAt(150, 50).FailedAt(260).StillRunningAt(500, 100))),
        .. Compared(Complete, Censored), .. Compared(Looked, Poor), .. Compared(Of(days => days.FailedAt(100).StillRunningAt(200)), Of(days => days.StillRunningAt(50))),
        .. GammaPoisson.Fit([3, 0, 2], [1, 0, 2]).Doubts, .. GammaPoisson.Fit([4], [2]).Doubts, .. GammaPoisson.Fit([4, 1, 2], [2, 0, 0]).Doubts,
        FleetRate.Method, RepeatResult.Method,
        .. RepeatFailures.Find([], [], new RepeatModel((_, _) => null, _ => null, [], []), new RepeatOptions()).Doubts,
    ];

    private static IEnumerable<string> OfLives(Lives lives)
    {
        LifeResult result = WeibullFit.Fit(lives);
        ProbabilityPlot plot = MedianRanks.Plot(lives);
        IEnumerable<string> always =
        [
            .. result.Account.Doubts, .. KaplanMeier.Estimate(lives).Account.Doubts, plot.Account.Convention, .. CompetingRisks.Incidence(lives).Account.Doubts,
            .. Given(lives, new GivenShape(2, ShapeSource.EnteredByUser)), .. Given(lives, new GivenShape(1, ShapeSource.Assumed)),
        ];
        if (lives.SwappedWhenPoor > 0)
        {
            always = always.Concat(PoorSwaps.Compare(lives).Account.Doubts);
        }

        if (result is not FittedLife fitted)
        {
            return always.Append(((NotEnough)result).Message);
        }

        GoodnessOfFitResult test = GoodnessOfFit.Test(fitted);
        LifeBounds bounds = WeibullBounds.Of(fitted);
        return
        [
            .. always, .. test.Account.Doubts, test.Account.Method, .. bounds.Doubts, bounds.Shape.Bounds, .. Given(lives, GivenShape.OfFleet(fitted, 0.95)),
            WeibullBounds.Of(fitted, new WeibullBoundsOptions { Method = BoundsMethod.ObservedInformation }).Shape.Bounds,
            .. PlotBend.Test(fitted).Warning is { } bend ? new[] { bend } : [],
        ];
    }

    private static IEnumerable<string> Given(Lives lives, GivenShape shape) =>
        FixedShapeFit.Fit(lives, shape) is FixedShapeLife life ? life.Account.Doubts.Append(shape.SourceInWords) : [];

    private static IEnumerable<string> Compared(Lives first, Lives second)
    {
        LifeGroup[] groups = [new("B16", first), new("B17", second)];
        return GroupComparison.Compare(groups, "B16").Account.Doubts.Concat(LogRank.Compare(groups).Account.Doubts);
    }
}
