using Washwear.Api.Registry;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>In which order a form offers checks. The one place to change when a better order is known than the catalogue's.</summary>
internal static class CheckSequence
{
    /// <summary>The checks of a model, each once: those of the faults chosen first, in the catalogue's order.</summary>
    /// <param name="model">The model.</param>
    /// <param name="chosen">Codes of the faults that the visit is for.</param>
    public static IReadOnlyList<CloseOutCheck> For(ModelEntry model, IReadOnlyList<string> chosen) =>
    [
        .. model.Resource.Faults
            .SelectMany(fault => (fault.Checks ?? []).Select(check => (Check: check, IsForThis: chosen.Contains(fault.Code, StringComparer.OrdinalIgnoreCase))))
            .GroupBy(pair => pair.Check.Check, StringComparer.OrdinalIgnoreCase)
            .Select(group => new CloseOutCheck(
                group.First().Check.Check,
                group.First().Check.Text,
                group.First().Check.Minutes,
                group.First().Check.Hazards ?? [],
                group.Any(pair => pair.IsForThis)))
            .OrderByDescending(check => check.IsForThis),
    ];
}
