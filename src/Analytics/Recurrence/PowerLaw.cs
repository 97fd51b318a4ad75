using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Power-law process (Crow's form, also called AMSAA): the events of a unit are a Poisson process whose expected number up to age t is
/// scale x t^shape, the same for all units. Units all watched from 0 to one age T: shape N / sum ln(T/t), bounds shape x chi2/(2N) with 2N
/// degrees of freedom (2(n - 1) for a record that ended at an event), unbiased (N - 1)/sum ((n - 2)/sum). Windows that differ: maximum
/// likelihood. Sources: Crow (1975), AMSAA Technical Report 138; MIL-HDBK-189 (1981), appendix C; Rigdon and Basu (2000), Statistical
/// Methods for the Reliability of Repairable Systems.
/// </summary>
public static class PowerLaw
{
    /// <summary>Fits the process.</summary>
    /// <param name="histories">The units, on a clock that counts age; those without events count by their windows.</param>
    /// <param name="end">How the records ended; at an event for one unit only.</param>
    /// <param name="level">Confidence level of the bounds, above 0 and below 1.</param>
    /// <param name="fewestEvents">Events below which nothing is fitted, 2 or more.</param>
    /// <exception cref="ArgumentException">
    /// Records of several units, or of one that entered late or went on, said to end at an event.
    /// </exception>
    public static PowerLawResult Fit(
        IReadOnlyList<EventHistory> histories, RecordEnd end = RecordEnd.ByTime, double level = 0.95, int fewestEvents = 3)
    {
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentOutOfRangeException.ThrowIfLessThan(fewestEvents, 2);
        ConfidenceLevel.Check(level);
        CheckEnd(histories, end);
        int events = histories.Sum(h => h.Ages.Count);
        if (events < fewestEvents)
        {
            return new NoPowerLaw(histories.Count, events, NoPowerLawReason.TooFewEvents, fewestEvents);
        }

        double last = histories.Max(h => h.To);
        double logs = histories.Sum(h => h.Ages.Sum(age => Math.Log(age / last)));
        var windows = new PowerWindows(histories.Select(h => (h.From, h.To)), last);
        (PowerLawMaximum? maximum, NoPowerLawReason? reason) = PowerLawMaximum.Find(windows, events, logs);
        return maximum is null
            ? new NoPowerLaw(histories.Count, events, reason!.Value, fewestEvents)
            : Fitted(histories, end, level, maximum, logs, last);
    }

    private static PowerLawFit Fitted(
        IReadOnlyList<EventHistory> histories, RecordEnd end, double level, PowerLawMaximum maximum, double logs, double last)
    {
        int events = histories.Sum(h => h.Ages.Count), lost = end == RecordEnd.AtEvent ? 1 : 0;
        bool equal = histories.All(h => h.From == 0 && h.To == last);
        double shape = maximum.Shape, logLast = Math.Log(last);
        double logLambda = Math.Log(maximum.ScaledLambda) - (shape * logLast);
        double logLikelihood = (events * (logLambda + Math.Log(shape) - 1)) + ((shape - 1) * (logs + (events * logLast)));
        double constant = events * (Math.Log(events / histories.Sum(h => h.Watched)) - 1);
        double gain = Math.Max(0, 2 * (logLikelihood - constant));
        return new PowerLawFit(
            histories.Count,
            events,
            equal ? PowerLawMethod.EqualWindows : PowerLawMethod.UnequalWindows,
            end,
            equal ? ExactShape(shape, events, lost, level) : LogScaleShape(maximum, level),
            equal && events > lost + 1 ? shape * (events - 1 - lost) / events : null,
            equal ? 2 * (events - lost) : null,
            Number(Math.Exp(logLambda)),
            Number(Math.Exp(-logLambda / shape)),
            logLikelihood,
            Math.Sqrt(maximum.VarianceOfLogShape),
            maximum.SeOfLog(-shape * logLast),
            new LikelihoodRatio(gain, 1, ChiSquare.UpperTail(gain, 1)),
            last,
            PowerLawGoodnessTest.Of(histories, end))
        { Maximum = maximum };
    }

    private static Estimate ExactShape(double shape, int events, int lost, double level)
    {
        int degrees = 2 * (events - lost);
        double At(double chance) => shape * ChiSquare.Quantile(chance, degrees) / (2 * events);
        return new Estimate(shape, At((1 - level) / 2), At((1 + level) / 2), level, "exact, chi-square");
    }

    private static Estimate LogScaleShape(PowerLawMaximum maximum, double level)
    {
        double reach = Math.Exp(ConfidenceLevel.NormalQuantile(level) * Math.Sqrt(maximum.VarianceOfLogShape));
        return new Estimate(maximum.Shape, maximum.Shape / reach, maximum.Shape * reach, level, "observed information, log scale");
    }

    private static double? Number(double value) => value > 0 && double.IsFinite(value) ? value : null;

    private static void CheckEnd(IReadOnlyList<EventHistory> histories, RecordEnd end)
    {
        if (end == RecordEnd.ByTime)
        {
            return;
        }

        if (histories.Count != 1 || histories[0].From > 0)
        {
            throw new ArgumentException("Only the record of one unit watched from age 0 can end at an event.", nameof(histories));
        }

        TrendWindow.RequireEndsAtEvent(histories[0]);
    }
}
