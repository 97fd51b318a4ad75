namespace Washwear.Dashboard.Visits;

/// <summary>The form that closes a visit: what can be chosen for this unit, what has been entered, what is wrong with it.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Serial">Serial number, if known.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="ModelName">Name of the model.</param>
/// <param name="TimeZone">IANA time zone of the site, whose wall clock the form is filled in by.</param>
/// <param name="SavedBy">Name under which the close-out will be saved.</param>
/// <param name="MaySend">Whether the reader's key may send records.</param>
/// <param name="Key">Key of this close-out: sent again under the same key it is saved once.</param>
/// <param name="Faults">Faults of the model, those that are open first.</param>
/// <param name="Checks">Checks of the model, those of the faults chosen first and in the order of the diagnosis.</param>
/// <param name="WhyFirst">Why the first check is first; null: no fault of the catalogue is chosen.</param>
/// <param name="Causes">Causes that the catalogue knows, those of the faults chosen first.</param>
/// <param name="Parts">Positions of the model and what is fitted there.</param>
/// <param name="Proofs">What shows that a repair of this unit holds.</param>
/// <param name="Values">What has been entered, by the name of its field.</param>
/// <param name="Problems">What is wrong with it; empty on a first visit.</param>
/// <param name="Latest">A visit that was closed out here in the last twelve hours, so that nobody tells it a second time; null: none.</param>
public sealed record CloseOutReport(
    string Unit,
    string? Serial,
    string Site,
    string SiteName,
    string ModelName,
    string TimeZone,
    string SavedBy,
    bool MaySend,
    string Key,
    IReadOnlyList<CloseOutFault> Faults,
    IReadOnlyList<CloseOutCheck> Checks,
    string? WhyFirst,
    IReadOnlyList<CloseOutCause> Causes,
    IReadOnlyList<CloseOutPart> Parts,
    IReadOnlyList<Proof> Proofs,
    CloseOutValues Values,
    IReadOnlyList<CloseOutProblem> Problems,
    VisitLink? Latest);

/// <summary>A fault that a visit may be for.</summary>
/// <param name="Code">Code of the model's catalogue, or as the unit reported it.</param>
/// <param name="Text">What it means.</param>
/// <param name="OpenSince">Since when it is open; null: it is not.</param>
public sealed record CloseOutFault(string Code, string Text, DateTimeOffset? OpenSince);

/// <summary>A check that may be done.</summary>
/// <param name="Code">Code of the check.</param>
/// <param name="Text">What to do.</param>
/// <param name="Minutes">Minutes it takes.</param>
/// <param name="Hazards">Hazards it brings, as the registry spells them.</param>
/// <param name="IsForThis">Whether it belongs to a fault that the visit is for.</param>
public sealed record CloseOutCheck(string Code, string Text, double Minutes, IReadOnlyList<string> Hazards, bool IsForThis);

/// <summary>A cause that may be found.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="FailureMode">How it fails; null: not told.</param>
/// <param name="Cause">Why; null: not told.</param>
/// <param name="IsForThis">Whether it is a cause of a fault that the visit is for.</param>
public sealed record CloseOutCause(string Position, string PositionName, string? FailureMode, string? Cause, bool IsForThis);

/// <summary>A position, what is fitted there, and what may be fitted.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Name">Its name.</param>
/// <param name="FailureModes">Ways in which it fails.</param>
/// <param name="PartNumbers">Part numbers that fit.</param>
/// <param name="FittedNumber">Part number of the part that is in, if known.</param>
/// <param name="FittedAt">When it was fitted, if known.</param>
/// <param name="AgeDays">Its age in days, if known.</param>
/// <param name="SeenAt">When somebody last looked at it and left it in; null: not on record.</param>
public sealed record CloseOutPart(
    string Position,
    string Name,
    IReadOnlyList<string> FailureModes,
    IReadOnlyList<string> PartNumbers,
    string? FittedNumber,
    DateTimeOffset? FittedAt,
    double? AgeDays,
    DateTimeOffset? SeenAt);

/// <summary>Something that is wrong with what was entered.</summary>
/// <param name="Field">Name of the field, or of the group of fields, of the form; null: the close-out as a whole.</param>
/// <param name="Rule">Rule that it breaks.</param>
/// <param name="Detail">What is wrong.</param>
/// <param name="Mend">What to do.</param>
public sealed record CloseOutProblem(string? Field, string Rule, string Detail, string Mend)
{
    /// <summary>Whether it belongs to a field or to a group of fields.</summary>
    /// <param name="field">Name of the field or group.</param>
    /// <returns>True for the field itself and for fields of the group.</returns>
    public bool IsAt(string field) =>
        Field is not null && (Field == field || Field.StartsWith(field + "/", StringComparison.Ordinal));
}
