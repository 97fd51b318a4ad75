using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Repeats;

/// <summary>By what a failure after a repair is known as a repeat.</summary>
public enum RepeatOf
{
    /// <summary>The same position failed again.</summary>
    Position,

    /// <summary>The same fault code came again.</summary>
    Code,
}

/// <summary>What a repeat points to. The order is the order of precedence.</summary>
public enum RepeatKind
{
    /// <summary>The same fault again soon, and its next repair was at a position that the first one left alone.</summary>
    WrongCauseFound,

    /// <summary>The same position again, early in the life of the new part.</summary>
    RepairDidNotHold,

    /// <summary>The failed part is of a batch that fails more than expected.</summary>
    BadBatch,

    /// <summary>The unit's failure rate at this position is above its fleet's.</summary>
    UnitEatsParts,

    /// <summary>More repeats at this place than chance explains, and none of the above.</summary>
    Unexplained,

    /// <summary>No more repeats at this place than chance explains, or too little is known to say more.</summary>
    AsExpected,
}

/// <summary>A failure that came back after a repair.</summary>
/// <param name="Repair">Index of the repair in the list given.</param>
/// <param name="Failure">Index of the failure in the list given.</param>
/// <param name="SamePosition">The same position failed.</param>
/// <param name="SameCode">The same fault code came.</param>
/// <param name="Days">Days from the repair to the failure, above 0.</param>
/// <param name="Kind">What it points to first.</param>
/// <param name="Also">What else applies, in order of precedence; never Unexplained or AsExpected.</param>
/// <param name="ExpectedChance">Chance that this repair comes back within what was watched of the window; null: not known.</param>
/// <param name="EarlyDays">Days that counted as early.</param>
/// <param name="Batch">The batch's excess, where the batch and it are known.</param>
/// <param name="UnitAtPosition">The unit's excess at the position, where known.</param>
/// <param name="Place">The place's test.</param>
public sealed record Repeat(
    int Repair,
    int Failure,
    bool SamePosition,
    bool SameCode,
    double Days,
    RepeatKind Kind,
    IReadOnlyList<RepeatKind> Also,
    double? ExpectedChance,
    double EarlyDays,
    Excess? Batch,
    Excess? UnitAtPosition,
    RepeatPlaceTest Place);

/// <summary>A unit and position, or a unit and fault code: repairs that came back against what is expected of them.</summary>
/// <param name="Of">Whether <paramref name="Key"/> is a position or a fault code.</param>
/// <param name="Unit">The caller's number of the unit.</param>
/// <param name="Key">The caller's number of the position or fault code.</param>
/// <param name="Repairs">Repairs that were watched for any time.</param>
/// <param name="CameBack">How many came back.</param>
/// <param name="Expected">Sum of their expected chances; null: not known for one of them.</param>
/// <param name="PValue">Chance that so many or more come back, exact: the repairs are unlike coins (Poisson-binomial); null: not known.</param>
/// <param name="AdjustedPValue">The same for the false discovery rate over all places of this kind; null: not known.</param>
/// <param name="Called">True when the adjusted value reaches the false discovery rate.</param>
public sealed record RepeatPlaceTest(
    RepeatOf Of, int Unit, int Key, int Repairs, int CameBack, double? Expected, double? PValue, double? AdjustedPValue, bool Called);

/// <summary>A position, or a fault code, over the fleet.</summary>
/// <param name="Of">Whether <paramref name="Key"/> is a position or a fault code.</param>
/// <param name="Key">The caller's number of it.</param>
/// <param name="Repairs">Repairs that were watched for any time.</param>
/// <param name="CameBack">How many came back within the window.</param>
/// <param name="WholeWindow">Repairs of which the whole window could be watched, whether they came back or not.</param>
/// <param name="CameBackOfWhole">How many of those came back.</param>
/// <param name="Share">Share of those that came back, Clopper-Pearson; null when there are none.</param>
/// <param name="Expected">Sum of the chances that the life model gives to all repairs; null where one has no model.</param>
/// <param name="Ratio">Came back by expected with exact Poisson bounds, somewhat wide as a repair comes back once at most; null as above.</param>
public sealed record RepeatGroup(
    RepeatOf Of,
    int Key,
    int Repairs,
    int CameBack,
    int WholeWindow,
    int CameBackOfWhole,
    Estimate? Share,
    double? Expected,
    Estimate? Ratio);

/// <summary>Repairs that came back.</summary>
/// <param name="Options">The choice made.</param>
/// <param name="Repeats">Each repeat, in the order of repair and failure.</param>
/// <param name="Places">Each unit and position, unit and fault code with a repair; the surest first.</param>
/// <param name="Groups">Each position and fault code over the fleet.</param>
/// <param name="NotWatched">Repairs that could not be watched at all, as they were done when watching ended.</param>
/// <param name="Doubts">Sentences that a reader must see before acting on the figures.</param>
public sealed record RepeatResult(
    RepeatOptions Options,
    IReadOnlyList<Repeat> Repeats,
    IReadOnlyList<RepeatPlaceTest> Places,
    IReadOnlyList<RepeatGroup> Groups,
    int NotWatched,
    IReadOnlyList<string> Doubts)
{
    /// <summary>Name of the method.</summary>
    public const string Method = "repeats within a window, exact Poisson-binomial tail, Benjamini-Hochberg";
}
