using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Units;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>Which fault a sheet is for, and what else is open.</summary>
internal static class FaultChoice
{
    // A lockout that ended longer ago says little about the next visit.
    private static readonly Duration Lately = Duration.FromDays(90);

    private static readonly Duration Year = Duration.FromDays(365);

    /// <summary>
    /// The fault asked for; else the open one that has kept the unit from washing for longest, else the open one that was raised first;
    /// else the
    /// last one that kept it from washing, if that was raised within 90 days; else none.
    /// </summary>
    /// <param name="unit">The unit.</param>
    /// <param name="history">Its records.</param>
    /// <param name="asked">Code asked for; null: none.</param>
    /// <param name="asOf">The instant.</param>
    public static SheetFault? Of(UnitEntry unit, UnitHistory history, string? asked, DateTimeOffset asOf)
    {
        var at = Instant.FromDateTimeOffset(asOf);
        WashFault[] raised = [.. history.Faults.Where(fault => fault.RaisedAt <= at
            && !(fault.ClearedAt <= fault.RaisedAt)).OrderBy(fault => fault.RaisedAt)];
        if (asked is not null)
        {
            return Fault(unit, raised, asked, FaultReason.AskedFor, asOf);
        }

        WashFault[] open = [.. raised.Where(fault => IsOpen(fault, at))];
        return (open.FirstOrDefault(fault => fault.LocksOutWashing) ?? open.FirstOrDefault()) is { } first
                ? Fault(unit, raised, first.Code, FaultReason.Open, asOf)
            : raised.LastOrDefault(fault => fault.LocksOutWashing) is { } last && at - last.RaisedAt <= Lately
                ? Fault(unit, raised, last.Code, FaultReason.LastLockout, asOf)
            : null;
    }

    /// <summary>Faults that are open beside the sheet's own, oldest first.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="history">Its records.</param>
    /// <param name="sheet">The sheet's fault.</param>
    /// <param name="asOf">The instant.</param>
    public static IReadOnlyList<OpenFault> AlsoOpen(UnitEntry unit, UnitHistory history, SheetFault? sheet, DateTimeOffset asOf) =>
    [
        .. history.Faults.Where(fault => IsOpen(fault, Instant.FromDateTimeOffset(asOf)) && !Same(fault.Code, sheet?.Code))
            .OrderBy(fault => fault.RaisedAt)
            .DistinctBy(fault => Codes.Key(fault.Code))
            .Select(fault =>
            {
                FaultResource? known = unit.Model.Faults.GetValueOrDefault(fault.Code);
                return new OpenFault(
                    fault.Code, known?.Text ?? fault.Code, fault.RaisedAt.ToDateTimeOffset(), fault.LocksOutWashing,
                        known?.LocksOutCooking ?? false);
            }),
    ];

    private static SheetFault Fault(UnitEntry unit, WashFault[] raised, string code, FaultReason reason, DateTimeOffset asOf)
    {
        FaultResource? known = unit.Model.Faults.GetValueOrDefault(code);
        WashFault[] own = [.. raised.Where(fault => Same(fault.Code, code))];
        var at = Instant.FromDateTimeOffset(asOf);

        // Open since the oldest that stands; else the last one.
        WashFault? told = own.FirstOrDefault(fault => IsOpen(fault, at)) ?? own.LastOrDefault();
        var fault = new SheetFault(
            known?.Code ?? told?.Code ?? code,
            known?.Text,
            reason,
            told?.RaisedAt.ToDateTimeOffset(),
            told is null || IsOpen(told, at) ? null : told.ClearedAt!.Value.ToDateTimeOffset(),
            known?.LocksOutWashing ?? false,
            known?.LocksOutCooking ?? false,
            own.Count(one => at - one.RaisedAt <= Year),
            string.Empty);
        return fault with { Sentence = VisitSheetSentences.Fault(fault, asOf, unit.Site.Resource.TimeZone) };
    }

    private static bool IsOpen(WashFault fault, Instant at) => fault.RaisedAt <= at && !(fault.ClearedAt <= at);

    private static bool Same(string one, string? other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
