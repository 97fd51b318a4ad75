namespace Washwear.Dashboard.Planning;

/// <summary>Why nothing is planned for a part, or nothing can be said of it.</summary>
public enum PlanGapKind
{
    /// <summary>No lives are on record at its position.</summary>
    NoLives,

    /// <summary>No life model could be fitted.</summary>
    NoModel,

    /// <summary>Its records leave its age in doubt.</summary>
    AgeDoubted,

    /// <summary>Its age on the model's clock is not known.</summary>
    AgeNotKnown,

    /// <summary>How fast it ages on that clock is not known.</summary>
    PaceNotKnown,

    /// <summary>The unit runs no washes, which the clock counts.</summary>
    NoWashes,

    /// <summary>No price of the part is told.</summary>
    NoPrice,

    /// <summary>No cost of a planned visit is told.</summary>
    NoVisitCost,

    /// <summary>No cost of a failure is told.</summary>
    NoFailureCost,

    /// <summary>A planned replacement costs nothing.</summary>
    CostsNothing,

    /// <summary>The unit's model has no such position.</summary>
    NoSuchPosition,

    /// <summary>The unit has left.</summary>
    UnitLeft,

    /// <summary>The unit is out of service until further notice.</summary>
    OutOfService,

    /// <summary>No parts of a pair are fitted.</summary>
    NoParts,

    /// <summary>The unit was not opened at the position in the time that is looked at.</summary>
    NoOpening,

    /// <summary>How fast the parts of a pair age is not known.</summary>
    NoPace,
}

/// <summary>Why nothing is planned, with what its words name.</summary>
/// <param name="Kind">The reason.</param>
/// <param name="Clock">AgeNotKnown, PaceNotKnown: the clock; else empty.</param>
/// <param name="Remark">NoModel: what stopped the fit, AgeDoubted: the doubt that is kept with the part, both in English as they are; else empty.</param>
public sealed record PlanGap(PlanGapKind Kind, string Clock = "", string Remark = "");

/// <summary>What to know before acting on figures of planning.</summary>
public enum PlanDoubt
{
    /// <summary>An hour locked out has no price.</summary>
    NoHourPrice,

    /// <summary>Companions are not weighed against each other.</summary>
    PairByItself,

    /// <summary>Where days without a wash come from.</summary>
    UnwashedDays,

    /// <summary>Intervals of single months are too narrow.</summary>
    SingleMonths,

    /// <summary>Some forecasts were made afterwards.</summary>
    MadeAfterwards,

    /// <summary>A trial saves nothing.</summary>
    NothingSaved,
}

/// <summary>The methods of planning.</summary>
public enum PlanMethod
{
    /// <summary>Dates of visits.</summary>
    Visits,

    /// <summary>Chances and ages of single parts.</summary>
    Parts,

    /// <summary>When parts are best replaced.</summary>
    Replacements,

    /// <summary>What to swap together.</summary>
    Companions,

    /// <summary>Failures to be expected.</summary>
    Forecast,

    /// <summary>What to stock.</summary>
    Stock,

    /// <summary>Kept forecasts against what came.</summary>
    Calibration,

    /// <summary>A trial beside the plan.</summary>
    WhatIf,

    /// <summary>What was decided.</summary>
    Decisions,
}

/// <summary>Why a job that is due is left out of the dated plan. One that somebody rejected or postponed is told by that decision.</summary>
public enum LeftOutReason
{
    /// <summary>Its site does not trade.</summary>
    SiteClosed,

    /// <summary>The part cannot be there within the horizon.</summary>
    PartTooLate,

    /// <summary>No week is left for it.</summary>
    NoWeek,

    /// <summary>Its site cannot be visited in the week that was fixed.</summary>
    FixedWeekClosed,

    /// <summary>Its site cannot be visited in any week that is allowed for it.</summary>
    NoWeekOpen,

    /// <summary>The crew has no minutes left.</summary>
    CrewFull,

    /// <summary>A time after the plan costs no more.</summary>
    CheaperLater,
}
