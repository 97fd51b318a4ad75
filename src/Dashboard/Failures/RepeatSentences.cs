using Washwear.Analytics.Repeats;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>What came back after a repair, in words.</summary>
public static class RepeatSentences
{
    /// <summary>What the answer is worked out by, for its basis.</summary>
    public static string Method => Fill.In(Texts.MethodName, ("method", Remarks.Told(RepeatResult.Method)));

    private static FailureRepeatsTexts Texts => FailureRepeatsTexts.Now;

    /// <summary>The finding.</summary>
    /// <param name="repairs">Repairs in the window.</param>
    /// <param name="repeats">How many came back.</param>
    /// <param name="windowDays">Days within which they had to.</param>
    /// <param name="places">Units and positions, the surest first.</param>
    /// <param name="batches">Batches, the surest first.</param>
    /// <returns>One or two sentences.</returns>
    public static string Of(int repairs, int repeats, int windowDays, IReadOnlyList<RepeatPlace> places, IReadOnlyList<RepeatBatch> batches)
    {
        ArgumentNullException.ThrowIfNull(places);
        ArgumentNullException.ThrowIfNull(batches);
        if (repairs == 0)
        {
            return Texts.NothingReplaced;
        }

        string[] called =
        [
            .. places.Where(place => place.Called).Take(2)
                .Select(place => Fill.In(Texts.CalledPlace, ("unit", place.Unit), ("position", Text.Inside(place.PositionName)))),
            .. batches.Where(batch => batch.Called).Take(2)
                .Select(batch => Fill.In(Texts.CalledBatch, ("batch", batch.Batch), ("position", Text.Inside(batch.PositionName)))),
        ];
        (string Name, string Value)[] counts = [("back", Text.Count(repeats)), ("within", Texts.Within.For(windowDays))];
        return called.Length == 0
            ? Texts.NoneWorse.For(repairs, counts)
            : Texts.SomeWorse.For(repairs, [.. counts, ("called", string.Join(", ", called))]);
    }

    /// <summary>Why a repeat points to what it does.</summary>
    /// <param name="repeat">The repeat.</param>
    /// <param name="position">Name of the position that was repaired.</param>
    /// <param name="batch">Batch that was fitted; null: not known.</param>
    /// <param name="code">Fault code that led to the repair; null: none.</param>
    /// <param name="options">The choice made.</param>
    /// <returns>One sentence.</returns>
    public static string Evidence(Repeat repeat, string position, string? batch, string? code, RepeatOptions options)
    {
        ArgumentNullException.ThrowIfNull(repeat);
        ArgumentNullException.ThrowIfNull(options);
        (string Name, string Value) at = ("position", Text.Inside(position));
        (string Name, string Value) after = ("time", Text.DurationAfter(repeat.Days * 24));
        return repeat.Kind switch
        {
            RepeatKind.WrongCauseFound => Fill.In(Texts.WrongCauseFound, ("code", code ?? string.Empty), after, at),
            RepeatKind.RepairDidNotHold => Fill.In(Texts.RepairDidNotHold, at, after, ("early", Days(repeat.EarlyDays))),
            RepeatKind.BadBatch => Texts.BadBatch.For(repeat.Batch!.Failures, ("batch", batch ?? string.Empty), ("expected", Text.Number(repeat.Batch.Expected))),
            RepeatKind.UnitEatsParts => Texts.UnitEatsParts.For(repeat.UnitAtPosition!.Failures, at, ("expected", Text.Number(repeat.UnitAtPosition.Expected))),
            RepeatKind.Unexplained => Texts.Unexplained.For(
                repeat.Place.Repairs, ("back", Text.Count(repeat.Place.CameBack)), ("expected", Text.Number(repeat.Place.Expected))),
            _ => repeat.ExpectedChance is { } chance
                ? Fill.In(Texts.AsExpected, ("days", Days(options.WindowDays)), ("share", Text.Share(chance)))
                : Texts.TooLittle,
        };
    }

    /// <summary>What the share and the ratio are, told of the first position that has both, else of the first.</summary>
    /// <param name="positions">The positions.</param>
    /// <returns>Two or three sentences; null where no repair was watched long enough.</returns>
    public static string? Here(IReadOnlyList<RepeatPosition> positions)
    {
        ArgumentNullException.ThrowIfNull(positions);
        RepeatPosition? row = positions.FirstOrDefault(one => one is { Share: not null, Expected: not null, Ratio: not null, CameBack: > 0 })
            ?? positions.FirstOrDefault(one => one.Share is not null);
        if (row is null)
        {
            return null;
        }

        string share = Texts.ShareHere.For(row.Repairs, ("name", row.Name), ("back", Text.Count(row.CameBack)), ("share", Text.Share(row.Share)));
        return row is { Expected: { } expected, Ratio: { } ratio }
            ? share + " " + Fill.In(Texts.ExpectedHere, ("expected", Text.Number(expected)), ("ratio", Text.Estimated(ratio)))
            : share;
    }

    private static string Days(double days) => Texts.Days.For((int)Math.Max(1, Math.Round(days)));
}
