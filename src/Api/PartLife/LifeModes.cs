using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>Failure modes side by side: how each ends parts while the others do too, and one curve a mode.</summary>
internal static class LifeModes
{
    /// <summary>The modes; null where failures do not tell two apart.</summary>
    /// <param name="lives">Lives of all modes.</param>
    /// <param name="level">Level of the bounds.</param>
    public static ModeFigures? Of(Lives lives, double level)
    {
        if (lives.Modes.Count == 0)
        {
            return null;
        }

        IncidenceResult incidence = CompetingRisks.Incidence(lives, level);
        if (incidence.Modes.Count < 2)
        {
            return null;
        }

        Dictionary<string, LifeResult> fits = CompetingRisks.FitEachMode(lives).ToDictionary(fit => fit.Mode, fit => fit.Fit);
        ModeRow[] rows =
        [
            .. incidence.Modes.Select(mode => Row(mode, mode.Mode is { } name ? fits[name] : null, level))
                .OrderBy(row => row.Mode is null).ThenByDescending(row => row.Failures),
        ];
        return new ModeFigures(
            GroupSentences.EndsMost(rows[0], rows.Sum(row => row.Failures)), GroupSentences.ModesMethod, rows,
            [.. Remarks.Told(incidence.Account.Doubts), GroupSentences.Independence]);
    }

    private static ModeRow Row(ModeIncidence mode, LifeResult? fit, double level)
    {
        // Between its own failures a mode's incidence and its standard error stand still.
        IncidencePoint[] steps =
        [
            .. mode.Steps.Where(step => step.Failures > 0).Select(step => new IncidencePoint(
                step.Age, step.Failures, step.Incidence, step.StandardError, step.Lower, step.Upper)),
        ];
        var fitted = fit as FittedLife;
        return new ModeRow(
            mode.Mode,
            mode.Failures,
            steps.Length == 0 ? null : new Estimate(steps[^1].Incidence, steps[^1].Lower, steps[^1].Upper, level, "complementary log-log"),
            fitted is null ? null : LifeFigures.Weibull(fitted, WeibullBounds.Of(fitted, new WeibullBoundsOptions { Level = level })),
            fit is NotEnough few ? Remarks.Told(few.Message) : fit is null ? GroupSentences.NoCurve : null,
            steps);
    }
}
