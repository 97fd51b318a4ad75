using System.Globalization;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;
using Washwear.Analytics.Recurrence;
using Washwear.Api.Http;
using Washwear.Api.Projections;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Failures;

/// <summary>Assembles whether failures come more often.</summary>
internal static class FailureTrendReports
{
    private const double Level = 0.95;
    private const double DaysPerYear = 365.25;
    private const int DaysAhead = 90;
    private const int NextDays = 30;

    /// <summary>The trend over the window, and the power law over the age of the units.</summary>
    /// <param name="view">The failures.</param>
    public static FailureTrendReport Of(FailureView view)
    {
        EventHistory[] calendar = [.. UnitEvents.ByCalendar(view).Select(one => one.History)];
        TrendVerdict verdict = TrendVerdict.Of(calendar, new TrendOptions { Ahead = DaysAhead, Level = Level });
        FailureMonth[] months = [.. Months(view)];
        double years = view.UnitYears;
        PowerLawFigures? law = PowerLawOf([.. UnitEvents.ByAge(view, null).Select(one => one.History)]);
        int watchedNow = view.Units.Count(unit => unit.ToMs >= view.ToMs - (long)TimeSpan.FromDays(1).TotalMilliseconds);
        return new FailureTrendReport(
            new Basis(view.AsOf, view.Choice.From, view.Choice.To, FailureTrendSentences.Method, null, view.Units.Count, view.InWindow.Count, view.Excluded, []),
            FailureTrendSentences.Of(verdict, months),
            FailureTrendSentences.Change(verdict),
            Json.Name(verdict.Finding.ToString()),
            verdict.Test is { } test && verdict.Reason is { } reason ? FailureTrendSentences.Test(test.Kind, reason) : null,
            verdict.Test?.PTwoSided,
            [.. Tests(calendar, months)],
            law,
            Next(view.InWindow.Count, years, watchedNow * NextDays / DaysPerYear),
            months);
    }

    private static Estimate? Next(int failures, double years, double nextYears) =>
        NextPeriodCount.Predict(failures, years, nextYears, Level) is { } next
            ? new Estimate(next.Expected, next.Lower, next.Upper, next.Level, next.Bounds)
            : null;

    private static IEnumerable<FailureMonth> Months(FailureView view)
    {
        int first = WashMonth.Of(view.FromMs);
        int last = WashMonth.Of(view.ToMs - 1);
        Dictionary<int, int> counts = view.InWindow.CountBy(failure => WashMonth.Of(failure.AtMs)).ToDictionary();
        for (int month = first; month <= last; month++)
        {
            long from = Math.Max(view.FromMs, WashMonth.BeginMs(month));
            long to = Math.Min(view.ToMs, WashMonth.BeginMs(month + 1));
            RateFigures figures = RateReports.Figures(
                counts.GetValueOrDefault(month), view.Units.Sum(unit => unit.Years(from, to)), view.Units.Sum(unit => unit.WashesIn(from, to)));
            yield return new FailureMonth(
                WashMonth.Begin(month).ToString("yyyy-MM", CultureInfo.InvariantCulture),
                DateTimeOffset.FromUnixTimeMilliseconds(from),
                DateTimeOffset.FromUnixTimeMilliseconds(to),
                figures.Failures,
                figures.UnitYears,
                figures.PerUnitYear,
                figures.Washes ?? 0,
                figures.PerThousandWashes);
        }
    }

    private static IEnumerable<TrendTestRow> Tests(IReadOnlyList<EventHistory> calendar, IReadOnlyList<FailureMonth> months)
    {
        TrendTest[] tests =
        [
            TrendTests.Laplace(calendar),
            TrendTests.LaplaceBetweenUnits(calendar),
            TrendTests.MilitaryHandbook(calendar),
            TrendTests.LewisRobinson(calendar, RecordEnd.ByTime),
        ];
        foreach (TrendTest test in tests)
        {
            if (test is { Statistic: { } statistic, PTwoSided: { } p })
            {
                yield return new TrendTestRow(FailureTrendSentences.Name(test.Kind), statistic, p, FailureTrendSentences.Says(test.Direction, p, Level));
            }
        }

        // Months that the window cuts are too short to be ranked with whole ones.
        double[] rates = [.. months.Where(IsWhole).Where(month => month.RatePerUnitYear is not null).Select(month => month.RatePerUnitYear!.Value)];
        if (rates.Length >= 4 && MonotoneTrend.Test(rates) is { PValue: { } rankP } ranks)
        {
            yield return new TrendTestRow(
                FailureTrendSentences.Name(TrendTestKind.MannKendall), ranks.S, rankP,
                FailureTrendSentences.Says(ranks.S > 0 ? TrendDirection.Worsening : TrendDirection.Improving, rankP, Level));
        }
    }

    private static bool IsWhole(FailureMonth month) =>
        month.From.UtcDateTime.Day == 1 && month.From.TimeOfDay == TimeSpan.Zero && month.To.UtcDateTime.Day == 1 && month.To.TimeOfDay == TimeSpan.Zero;

    private static PowerLawFigures? PowerLawOf(EventHistory[] ages)
    {
        if (PowerLaw.Fit(ages) is not PowerLawFit fit)
        {
            return null;
        }

        return new PowerLawFigures(
            fit.Shape, fit.Units, fit.Events, fit.Goodness?.Statistic, FailureTrendSentences.Fits(fit.Goodness), fit.ShapeIsOne.PValue);
    }
}
