using CsCheck;
using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

/// <summary>Histories of all kinds that the door lets in: none, no events, one, ties, late entry, an event at the very end.</summary>
internal static class AnyHistories
{
    public static readonly Gen<EventHistory[]> All = Sample(late: true);

    /// <summary>All watched from age 0.</summary>
    public static readonly Gen<EventHistory[]> FromNew = Sample(late: false);

    private static Gen<EventHistory[]> Sample(bool late) =>
        from scale in Gen.OneOf(Gen.Const(1.0), Gen.Const(365.0), Gen.Const(1e-6), Gen.Const(1e9))
        from grid in Gen.OneOf(Gen.Const(4), Gen.Const(40), Gen.Const(100_000))
        from most in Gen.Int[0, 6]
        from units in (
            from entry in Gen.OneOf(Gen.Const(0), Gen.Int[0, grid - 1])
            from end in Gen.Int[1, grid]
            from events in Gen.Int[1, grid].Array[0, most]
            from atEnd in Gen.Int[0, 4]
            select Build(late ? Math.Min(entry, end - 1) : 0, end, events, atEnd == 0, scale / grid)).Array[0, 12]
        select units;

    private static EventHistory Build(int from, int to, int[] events, bool atEnd, double unit) => new(
        from * unit,
        to * unit,
        [.. events.Concat(atEnd ? [to] : []).Where(e => e > from && e <= to).Order().Select(e => e * unit)]);
}
