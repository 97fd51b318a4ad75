using System.Text.Json;
using CsCheck;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

public sealed class PartsToBringTests
{
    private static readonly PublishedCheck Published = PublishedChecks.Get("check_order.parts_to_bring");
    private static readonly Dictionary<string, double> NoPrices = [];

    /// <summary>Where the level cannot be reached the source names no parts; here those are named that reach the most.</summary>
    [Fact]
    public void The_published_single_parts_are_met()
    {
        CauseParts[] causes = [.. Published.Inputs.GetProperty("single").EnumerateObject()
            .Select(part => new CauseParts(part.Value.GetDouble(), part.Name == "none" ? null : [part.Name]))];
        foreach (JsonElement expected in Published.Value("single").EnumerateArray())
        {
            PartsChoice choice = PartsToBring.Fewest(causes, expected.GetProperty("level").GetDouble(), NoPrices);
            Assert.Equal(expected.GetProperty("reachable").GetBoolean(), choice.Reachable);
            Published.AssertClose(expected.GetProperty("covered"), choice.Covered, "covered");
            if (choice.Reachable)
            {
                Assert.Equal(Names(expected), choice.Parts);
                Published.AssertClose(expected.GetProperty("covered_by_one_fewer"), choice.CoveredByOneFewer, "one fewer");
            }
        }
    }

    [Theory]
    [InlineData("joint", false)]
    [InlineData("joint_cheapest", true)]
    public void The_published_joint_parts_are_met(string name, bool cheapest)
    {
        Dictionary<string, double> prices =
            Published.Inputs.GetProperty("price").EnumerateObject().ToDictionary(part => part.Name, part => part.Value.GetDouble());
        CauseParts[] causes = [.. Published.Inputs.GetProperty("joint_causes").EnumerateArray().Select(Joint)];
        foreach (JsonElement expected in Published.Value(name).EnumerateArray())
        {
            double level = expected.GetProperty("level").GetDouble();
            PartsChoice choice = cheapest ? PartsToBring.Cheapest(causes, level, prices) : PartsToBring.Fewest(causes, level, prices);
            Assert.Equal(Names(expected).Order(), choice.Parts.Order());
            Published.AssertClose(expected.GetProperty("number"), choice.Parts.Count, "number");
            Published.AssertClose(expected.GetProperty("covered"), choice.Covered, "covered");
            Published.AssertClose(expected.GetProperty("price"), choice.Price, "price");
            Assert.True(choice is { Exact: true, Reachable: true, Unpriced: [] });
        }
    }

    [Fact]
    public void A_blockage_needs_no_part_and_something_else_has_none()
    {
        CauseParts[] causes = [new(0.5, []), new(0.3, ["a"]), new(0.2, null)];
        Assert.Empty(PartsToBring.Fewest(causes, 0.5, NoPrices).Parts);
        Assert.Equal(["a"], PartsToBring.Fewest(causes, 0.51, NoPrices).Parts);
        PartsChoice most = PartsToBring.Fewest(causes, 0.9, NoPrices);
        Assert.False(most.Reachable);
        Assert.Equal(["a"], most.Parts);
        Assert.Equal(0.8, most.MostCoverable, 1e-12);
    }

    [Fact]
    public void Odd_input_gives_a_choice_all_the_same()
    {
        PartsChoice nothing = PartsToBring.Cheapest([], 0.9, NoPrices);
        Assert.True(nothing is { Reachable: false, Parts: [], Covered: 0, CoveredByOneFewer: null });
        Assert.True(PartsToBring.Fewest([new(1, ["a", "a"])], 1, NoPrices) is { Parts: ["a"], Unpriced: ["a"], CoveredByOneFewer: 0 });
        Assert.Throws<ArgumentOutOfRangeException>(() => PartsToBring.Fewest([new(double.NaN, [])], 0.9, NoPrices));
        Assert.Throws<ArgumentOutOfRangeException>(() => PartsToBring.Fewest([], 1.5, NoPrices));
    }

    /// <summary>Against all sets, named apart from the program: none that reaches the level is fewer, or cheaper.</summary>
    [Fact]
    public void No_set_that_reaches_the_level_is_smaller_or_cheaper() => Drawn.Each(Needs(6, 5), 200, drawn =>
    {
        (CauseParts[] causes, Dictionary<string, double> prices, double level) = drawn;
        string[] all = [.. causes.SelectMany(cause => cause.Parts!).Distinct()];
        string[][] reaching = [.. Enumerable.Range(0, 1 << all.Length)
            .Select(set => (string[])[.. all.Where((_, i) => (set >> i & 1) == 1)])
            .Where(set => causes.Where(cause => cause.Parts!.All(set.Contains)).Sum(cause => cause.Probability) >= level - 1e-9)];
        PartsChoice fewest = PartsToBring.Fewest(causes, level, prices);
        PartsChoice cheapest = PartsToBring.Cheapest(causes, level, prices);
        Assert.Equal(reaching.Length > 0, fewest.Reachable);
        Assert.Equal(fewest.Reachable, cheapest.Reachable);
        if (fewest.Reachable)
        {
            Assert.Equal(reaching.Min(set => set.Length), fewest.Parts.Count);
            Assert.Equal(reaching.Min(set => set.Sum(part => prices[part])), cheapest.Price, 1e-6);
        }
    });

    /// <summary>Many parts: single needs are exact in number; joint ones reach the level and stay above the limit that is stated.</summary>
    [Fact]
    public void With_many_parts_the_level_is_reached_and_the_limit_holds() => Drawn.Each(Needs(40, 30), 40, drawn =>
    {
        (CauseParts[] causes, Dictionary<string, double> prices, double level) = drawn;
        foreach (bool isCheapest in new[] { false, true })
        {
            PartsChoice choice = isCheapest ? PartsToBring.Cheapest(causes, level, prices) : PartsToBring.Fewest(causes, level, prices);
            Assert.True(!choice.Reachable || choice.Covered >= level - 1e-9);
            Assert.True(choice.Least <= (isCheapest ? choice.Price : choice.Parts.Count) + 1e-9);
        }

        CauseParts[] single = [.. causes.Select(cause => cause with { Parts = [cause.Parts![0]] })];
        PartsChoice fewest = PartsToBring.Fewest(single, level, prices);
        Assert.True(fewest.Exact);
        Assert.Equal(fewest.Parts.Count, fewest.Least, 1e-9);
    });

    private static Gen<(CauseParts[] Causes, Dictionary<string, double> Prices, double Level)> Needs(int causes, int parts) => Gen.Select(
        Gen.Select(Gen.Double[0.01, 1], Gen.Int[0, parts - 1].Array[1, 3]).Array[causes], Gen.Double[0, 300].Array[parts], Gen.Double[0, 1],
        (drawn, prices, level) =>
        {
            double sum = drawn.Sum(cause => cause.Item1) * 1.05;
            return (
                drawn.Select(cause => new CauseParts(cause.Item1 / sum, [.. cause.Item2.Select(part => $"part {part}")])).ToArray(),
                prices.Select((price, i) => (price, i)).ToDictionary(pair => $"part {pair.i}", pair => pair.price), level);
        });

    private static string[] Names(JsonElement expected) => [.. expected.GetProperty("parts").EnumerateArray().Select(part => part.GetString()!)];

    private static CauseParts Joint(JsonElement cause)
    {
        JsonElement parts = cause.GetProperty("parts");
        return new CauseParts(
            cause.GetProperty("p").GetDouble(),
            parts.ValueKind == JsonValueKind.Array ? [.. parts.EnumerateArray().Select(part => part.GetString()!)] : [parts.GetString()!]);
    }
}
