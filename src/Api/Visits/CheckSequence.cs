using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Api.VisitSheets;
using Washwear.Dashboard.VisitSheets;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>The checks of a form in their order.</summary>
/// <param name="Checks">The checks, each once.</param>
/// <param name="WhyFirst">Why the first one is first; null: no fault of the catalogue is chosen.</param>
internal sealed record OrderedChecks(IReadOnlyList<CloseOutCheck> Checks, string? WhyFirst);

/// <summary>
/// In which order a form offers checks: those of the faults chosen as the diagnosis would do them, the fault of the visit sheet first, and
/// those that an earlier visit did for the same trouble last; then the model's others, in the catalogue's order.
/// </summary>
/// <param name="diagnoses">Diagnoses faults.</param>
public sealed class CheckSequence(UnitDiagnoses diagnoses)
{
    /// <summary>The checks of a unit's model.</summary>
    /// <param name="snapshot">The registry.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="history">Its records.</param>
    /// <param name="chosen">Codes of the faults that the visit is for.</param>
    /// <param name="results">Results so far.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    internal async Task<OrderedChecks> ForAsync(
        RegistrySnapshot snapshot, UnitEntry unit, UnitHistory history, IReadOnlyList<string> chosen, IReadOnlyList<CheckAnswer> results,
        DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        string? first = FaultChoice.Of(unit, history, null, asOf)?.Code;
        FaultResource[] faults =
        [
            .. unit.Model.Resource.Faults.Where(fault => chosen.Contains(fault.Code, StringComparer.OrdinalIgnoreCase))
                .OrderByDescending(fault => string.Equals(fault.Code, first, StringComparison.OrdinalIgnoreCase)),
        ];
        List<FaultCheckResource> order = [];
        string? whyFirst = null;
        UnitParts? parts = faults.Length == 0 ? null : await diagnoses.PartsAsync(unit, asOf, cancellationToken);
        foreach (FaultResource fault in faults)
        {
            CheckAnswer[] told = [.. results.Where(result => fault.Checks?.Any(check => check.Check == result.Check) == true)];
            Diagnosed? diagnosed = await diagnoses.OfAsync(
                snapshot, unit, history, parts!, fault, new SheetQuestion(fault.Code, told), asOf, cancellationToken);
            order.AddRange(Ordered(fault, diagnosed));
            whyFirst ??= DiagnosisSentences.WhyFirst(fault.Code, diagnosed?.Figures, diagnosed?.State.Next);
        }

        string[] forThis = [.. order.Select(check => Codes.Key(check.Check))];
        return new OrderedChecks(
            [
                .. order.Concat(unit.Model.Resource.Faults.SelectMany(fault => fault.Checks ?? []))
                    .DistinctBy(check => Codes.Key(check.Check))
                    .Select(check => new CloseOutCheck(
                        check.Check, check.Text, check.Minutes, check.Hazards ?? [], forThis.Contains(Codes.Key(check.Check)))),
            ],
            whyFirst);
    }

    private static IEnumerable<FaultCheckResource> Ordered(FaultResource fault, Diagnosed? diagnosed)
    {
        IReadOnlyList<FaultCheckResource> listed = fault.Checks ?? [];
        return diagnosed is null ? listed
            : diagnosed.Checks.OrderBy(check => check.DoneAt is not null).Select(check => listed.First(one => one.Check == check.Check));
    }
}
