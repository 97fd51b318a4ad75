namespace Washwear.Dashboard.Failures;

/// <summary>What counts as one failure.</summary>
public enum FailureKind
{
    /// <summary>Faults of a unit, those that come in a run after one cause counted once.</summary>
    Faults,

    /// <summary>Parts that failed or were found failed.</summary>
    Parts,
}

/// <summary>What rates are told apart by.</summary>
public enum RateGroup
{
    /// <summary>By unit.</summary>
    Unit,

    /// <summary>By site.</summary>
    Site,

    /// <summary>By operator.</summary>
    Operator,

    /// <summary>By model.</summary>
    Model,

    /// <summary>By part number; failed parts only.</summary>
    PartNumber,
}

/// <summary>What a Pareto table counts.</summary>
public enum ParetoGroup
{
    /// <summary>Failed parts by position.</summary>
    Position,

    /// <summary>Failed parts by position and failure mode.</summary>
    Mode,

    /// <summary>Findings of visits by cause.</summary>
    Cause,

    /// <summary>Faults by code.</summary>
    Code,
}

/// <summary>What a Pareto table is ordered by.</summary>
public enum ParetoMeasure
{
    /// <summary>Number of failures.</summary>
    Count,

    /// <summary>Hours for which units were locked out of washing.</summary>
    LockedOutHours,

    /// <summary>Days without a wash that counts.</summary>
    UnwashedDays,
}

/// <summary>What recurrence is drawn over.</summary>
public enum RecurrenceAxis
{
    /// <summary>The unit's age since it was commissioned, days.</summary>
    Age,

    /// <summary>The calendar, days since the begin of the window.</summary>
    Calendar,
}

/// <summary>What a reader of the failures page chose; the address keeps all of it.</summary>
public sealed record FailureChoice
{
    /// <summary>Hours within which another fault belongs to the same episode unless another number is chosen.</summary>
    public const double UsualGapHours = 72;

    /// <summary>Days after a repair within which a failure is a repeat unless another number is chosen.</summary>
    public const int UsualWindowDays = 90;

    /// <summary>What counts as one failure.</summary>
    public FailureKind Of { get; init; }

    /// <summary>Start of the window, inclusive; null: a year before its end.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>End of the window, exclusive; null: now.</summary>
    public DateTimeOffset? To { get; init; }

    /// <summary>Only units of this operator; null: all.</summary>
    public string? Operator { get; init; }

    /// <summary>Only units of this site; null: all.</summary>
    public string? Site { get; init; }

    /// <summary>Only units of this model; null: all.</summary>
    public string? Model { get; init; }

    /// <summary>Only this unit; null: all.</summary>
    public string? Unit { get; init; }

    /// <summary>Only parts at this position; null: all.</summary>
    public string? Position { get; init; }

    /// <summary>Only faults of this code; null: all.</summary>
    public string? Code { get; init; }

    /// <summary>What rates are told apart by.</summary>
    public RateGroup By { get; init; }

    /// <summary>What the Pareto table counts.</summary>
    public ParetoGroup Pareto { get; init; }

    /// <summary>What the Pareto table is ordered by.</summary>
    public ParetoMeasure Measure { get; init; }

    /// <summary>What recurrence is drawn over.</summary>
    public RecurrenceAxis Axis { get; init; }

    /// <summary>What recurrence is compared by: operator, site, model or region; null: the whole fleet in one curve.</summary>
    public string? Compare { get; init; }

    /// <summary>Hours within which another fault belongs to the same episode, 0 to 2160.</summary>
    public double GapHours { get; init; } = UsualGapHours;

    /// <summary>Days after a repair within which a failure is a repeat, 1 to 730.</summary>
    public int WindowDays { get; init; } = UsualWindowDays;
}
