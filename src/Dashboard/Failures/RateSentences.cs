using Washwear.Analytics.Rates;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>Who fails more than the fleet, in one sentence.</summary>
public static class RateSentences
{
    /// <summary>The finding.</summary>
    /// <param name="count">How many rows there are.</param>
    /// <param name="called">Codes of those that stand out, highest shrunken rate first.</param>
    /// <param name="fleet">The fleet.</param>
    /// <param name="choice">What the reader chose.</param>
    /// <returns>One or two sentences.</returns>
    public static string Of(int count, IReadOnlyList<string> called, RateFigures fleet, FailureChoice choice)
    {
        ArgumentNullException.ThrowIfNull(called);
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(choice);
        if (fleet.PerUnitYear is not { } rate)
        {
            return "Nothing was watched in this time, so no rate can be told.";
        }

        string all = choice.By == RateGroup.PartNumber
            ? "A part fails " + Text.Number(rate.Value) + " times a year on average"
            : "A unit has " + Text.Number(rate.Value) + " failures a year on average";
        string nouns = Noun(choice.By, 2);
        return called.Count == 0
            ? all + "; none of " + Text.Counted(count, Noun(choice.By, 1), nouns) + " stands out by more than chance."
            : all + "; " + Text.Counted(called.Count, Noun(choice.By, 1), nouns) + " of " + Text.Count(count) + (called.Count == 1 ? " stands" : " stand")
                + " out: " + string.Join(", ", called.Take(3)) + (called.Count > 3 ? " and others" : string.Empty) + ".";
    }

    /// <summary>How much true rates differ.</summary>
    /// <param name="fleet">The fit.</param>
    /// <param name="by">What rates are told apart by.</param>
    /// <returns>One sentence.</returns>
    public static string Spread(FleetRate fleet, RateGroup by)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        return fleet.Spread is not { } spread
            ? "The counts differ no more than chance alone makes them differ, so all " + Noun(by, 2) + " are given the same rate."
            : "The true rates of " + Noun(by, 2) + " differ by about " + Text.Share(spread.Variation)
                + " of their mean; a count on its own is drawn towards the fleet as if it had been watched "
                + Text.Number(spread.Rate) + (by == RateGroup.PartNumber ? " part-years" : " unit-years") + " longer at the fleet's rate.";
    }

    /// <summary>What rates are told apart by, as a noun.</summary>
    /// <param name="by">What.</param>
    /// <param name="number">1 for the singular.</param>
    /// <returns>The noun.</returns>
    public static string Noun(RateGroup by, int number) => (by, number == 1) switch
    {
        (RateGroup.Site, true) => "kitchen",
        (RateGroup.Site, false) => "kitchens",
        (RateGroup.Operator, true) => "operator",
        (RateGroup.Operator, false) => "operators",
        (RateGroup.Model, true) => "model",
        (RateGroup.Model, false) => "models",
        (RateGroup.PartNumber, true) => "part number",
        (RateGroup.PartNumber, false) => "part numbers",
        (_, true) => "unit",
        (_, false) => "units",
    };
}
