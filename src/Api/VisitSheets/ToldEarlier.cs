using Washwear.Analytics.Diagnosis;
using Washwear.Api.Registry;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>What earlier visits of the episode bring into a diagnosis: the last finding, and the last result of each check.</summary>
internal sealed class ToldEarlier
{
    private readonly FaultResource _fault;
    private readonly EarlierVisit? _finding;

    /// <summary>What the visits told.</summary>
    /// <param name="fault">The fault as the catalogue gives it.</param>
    /// <param name="visits">The visits, oldest first.</param>
    /// <param name="today">Results of today: each takes the place of an earlier one of its check.</param>
    public ToldEarlier(FaultResource fault, IReadOnlyList<EarlierVisit> visits, IReadOnlyList<CheckAnswer> today)
    {
        _fault = fault;
        Visits = visits;
        _finding = visits.LastOrDefault(visit => visit.Findings.Count > 0);
        Checks =
        [
            .. visits.SelectMany(visit => visit.Checks.Select(told => (Visit: visit, Told: told)))
                .Where(pair => !today.Any(now => now.Check == pair.Told.Check))
                .GroupBy(pair => pair.Told.Check).Select(group => group.Last()),
        ];
    }

    /// <summary>The visits, oldest first.</summary>
    public IReadOnlyList<EarlierVisit> Visits { get; }

    /// <summary>The last result of each check that was not done again today, and its visit.</summary>
    public IReadOnlyList<(EarlierVisit Visit, CheckAnswer Told)> Checks { get; }

    /// <summary>What was found; the last visit that found something holds.</summary>
    public IReadOnlyList<CauseFinding> Findings => _finding?.Findings ?? [];

    /// <summary>The results as the diagnosis takes them: one that the finding rests on is done, but tells nothing besides.</summary>
    public IEnumerable<EnteredResult> Results => Checks.Select(one => new EnteredResult(
        one.Told.Check,
        IsPartOfFinding(one.Visit, one.Told) ? CheckOutcome.NotDone
            : one.Told.Result == SheetResult.Pass ? CheckOutcome.DoesNotFire : CheckOutcome.Fires));

    private bool IsPartOfFinding(EarlierVisit visit, CheckAnswer told) => visit == _finding && told.Result == SheetResult.Fail
        && _fault.Checks!.First(check => check.Check == told.Check).Positions
            .Any(position => visit.Findings.Any(found => string.Equals(found.Position, position, StringComparison.OrdinalIgnoreCase)));
}
