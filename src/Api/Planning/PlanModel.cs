using Washwear.Analytics.PartLife;
using Washwear.Analytics.Planning;
using Washwear.Api.PartLife;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>The life model of a position, on the clock that part life counts it on.</summary>
internal sealed class PlanModel
{
    private readonly Lazy<LifeUncertainty?> _life;

    private PlanModel(string position, LifeClock clock, Lives lives, LifeResult fit)
    {
        (Position, Clock, Lives, Fit) = (position, clock, lives, fit);
        _life = new Lazy<LifeUncertainty?>(() => Fitted is { } fitted ? Uncertain(fitted) : null);
    }

    /// <summary>Code of the position.</summary>
    public string Position { get; }

    /// <summary>The clock: the one that explains the lives clearly best, else days.</summary>
    public LifeClock Clock { get; }

    /// <summary>The lives on that clock.</summary>
    public Lives Lives { get; }

    /// <summary>The curve, or why there is none.</summary>
    public LifeResult Fit { get; }

    /// <summary>The curve; null: too few failures.</summary>
    public FittedLife? Fitted => Fit as FittedLife;

    /// <summary>The curve with how little is known of it; null: too few failures.</summary>
    public LifeUncertainty? Life => _life.Value;

    /// <summary>Why there is no curve; null: there is one.</summary>
    public PlanGap? WhyNone => Fit is NotEnough few ? new PlanGap(PlanGapKind.NoModel, Remark: few.Message) : null;

    /// <summary>Chooses the clock as the part-life page does and fits the lives.</summary>
    /// <param name="position">Code of the position.</param>
    /// <param name="lives">All lives at it.</param>
    public static PlanModel Of(string position, IReadOnlyCollection<FleetLife> lives)
    {
        ClockFigures? clocks = LifeComparisons.Clocks(lives);
        LifeClock clock = clocks is { Decided: true } ? FleetLives.Clock(clocks.Best)!.Value : LifeClock.Days;
        Lives counted = FleetLives.OnClock(lives, clock);
        return new PlanModel(position, clock, counted, WeibullFit.Fit(counted));
    }

    private static LifeUncertainty Uncertain(FittedLife fit)
    {
        (double shape, double scale) = (Math.Sqrt(fit.VarianceOfLogShape), Math.Sqrt(fit.VarianceOfLogScale));
        return new LifeUncertainty(
            new WeibullLife(fit.Curve.Shape, fit.Curve.Scale), shape, scale, Math.Clamp(fit.CovarianceOfLogs / (shape * scale), -1, 1),
            WeibullBounds.Shape(fit).Lower ?? 0);
    }
}
