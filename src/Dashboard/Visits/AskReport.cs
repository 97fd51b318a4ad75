namespace Washwear.Dashboard.Visits;

/// <summary>The form by which somebody at a unit tells a fault and asks for a visit.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="ModelName">Name of the model.</param>
/// <param name="TimeZone">IANA time zone of the site, by whose wall clock the form is filled in.</param>
/// <param name="SavedBy">Name under which it will be saved.</param>
/// <param name="MaySend">Whether the reader may send it.</param>
/// <param name="AskedAt">When a visit that nobody has made was asked for; null: none was.</param>
/// <param name="Faults">Faults of the model, those that are open first.</param>
/// <param name="Values">What has been entered, by the name of its field.</param>
/// <param name="Problems">What is wrong with it.</param>
public sealed record AskReport(
    string Unit,
    string SiteName,
    string ModelName,
    string TimeZone,
    string SavedBy,
    bool MaySend,
    DateTimeOffset? AskedAt,
    IReadOnlyList<CloseOutFault> Faults,
    CloseOutValues Values,
    IReadOnlyList<CloseOutProblem> Problems);
