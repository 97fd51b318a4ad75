using Washwear.Analytics.PartLife;
using Washwear.Analytics.Repeats;
using Washwear.Api.PartLife;

namespace Washwear.Api.Failures;

/// <summary>Which units and which batches fail at a position more than the life model of the fleet expects of parts of their ages.</summary>
/// <param name="Units">Units by position.</param>
/// <param name="Batches">Batches by position.</param>
/// <param name="Numbers">Numbers that positions and batches have in them; lock it before giving new ones.</param>
/// <param name="WithoutModel">Positions without a life model, which are left out.</param>
internal sealed record WornPlaces(
    IReadOnlyList<WornPlace> Units, IReadOnlyList<WornPlace> Batches, FailureNumbers Numbers, IReadOnlyList<string> WithoutModel)
{
    /// <summary>Share of the calls that may be wrong.</summary>
    public const double FalseDiscoveryRate = 0.10;

    /// <summary>Tests all places of a fleet.</summary>
    /// <param name="wear">The parts and their life models.</param>
    public static WornPlaces Of(Wear wear)
    {
        var numbers = new FailureNumbers();
        IGrouping<string, FleetLife>[] positions =
        [
            .. wear.Lives.Where(life => life.Doubt is null && life.Ages.Days is { } ages && ages.End > ages.Entry)
                .GroupBy(life => life.Position, StringComparer.OrdinalIgnoreCase),
        ];
        (PositionParts Parts, Weibull Curve)[] modelled =
        [
            .. positions.Select(lives => (Parts: PositionParts.Of(lives, numbers), Curve: wear.Models.Curve(lives.Key)))
                .Where(one => one.Curve is not null).Select(one => (one.Parts, one.Curve!)),
        ];
        PositionPlaces[] counted = [.. modelled.AsParallel().AsOrdered().Select(one => PositionPlaces.Of(one.Parts, one.Curve))];
        (IReadOnlyList<WornPlace> units, IReadOnlyList<WornPlace> batches) = ([], []);
        Parallel.Invoke(
            () => units = Test(counted.SelectMany(one => one.Units.Select(place => (one.Position, place)))),
            () => batches = Test(counted.SelectMany(one => one.Batches.Select(place => (one.Position, place)))));
        return new WornPlaces(
            units, batches, numbers, [.. positions.Select(lives => lives.Key).Where(position => wear.Models.Curve(position) is null).Order(StringComparer.Ordinal)]);
    }

    private static WornPlace[] Test(IEnumerable<(int Position, KeyValuePair<int, Tally> Place)> counted)
    {
        (int Position, KeyValuePair<int, Tally> Place)[] places = [.. counted];
        IReadOnlyList<Excess> tested = ExcessFailures.Test(
            [.. places.Select(one => new WatchedFailures(one.Place.Key, one.Position, one.Place.Value.Failures, one.Place.Value.Expected))], FalseDiscoveryRate);
        return [.. tested.Zip(places, (excess, one) => new WornPlace(excess, one.Place.Value.Lives))];
    }

    /// <summary>The parts at a position, their batches by number.</summary>
    private sealed record PositionParts(int Position, FleetLife[] Lives, int?[] Batches)
    {
        public static PositionParts Of(IGrouping<string, FleetLife> lives, FailureNumbers numbers)
        {
            FleetLife[] all = [.. lives];
            return new PositionParts(numbers.Position(lives.Key), all, Array.ConvertAll(all, life => life.Batch is { } batch ? numbers.Batch(batch) : (int?)null));
        }
    }

    /// <summary>What failed and what was expected to at a position, by unit and by batch.</summary>
    private sealed record PositionPlaces(int Position, Dictionary<int, Tally> Units, Dictionary<int, Tally> Batches)
    {
        public static PositionPlaces Of(PositionParts parts, Weibull curve)
        {
            var places = new PositionPlaces(parts.Position, [], []);
            for (int i = 0; i < parts.Lives.Length; i++)
            {
                LifeAges ages = parts.Lives[i].Ages.Days!.Value;
                double expected = curve.CumulativeHazardAt(ages.End) - curve.CumulativeHazardAt(ages.Entry);
                Add(places.Units, parts.Lives[i].Unit.Id, parts.Lives[i], expected);
                if (parts.Batches[i] is { } batch)
                {
                    Add(places.Batches, batch, parts.Lives[i], expected);
                }
            }

            return places;
        }

        private static void Add(Dictionary<int, Tally> places, int key, FleetLife life, double expected)
        {
            if (!places.TryGetValue(key, out Tally? tally))
            {
                places[key] = tally = new Tally();
            }

            tally.Add(life, expected);
        }
    }

    private sealed class Tally
    {
        public int Failures { get; private set; }

        public double Expected { get; private set; }

        public List<FleetLife> Lives { get; } = [];

        public void Add(FleetLife life, double expected)
        {
            Failures += life.Failed ? 1 : 0;
            Expected += expected;
            Lives.Add(life);
        }
    }
}

/// <summary>A unit, or a batch, at a position.</summary>
/// <param name="Excess">Its test.</param>
/// <param name="Lives">Its parts.</param>
internal sealed record WornPlace(Excess Excess, IReadOnlyList<FleetLife> Lives);

/// <summary>Whole numbers for what Analytics tells apart by number.</summary>
internal sealed class FailureNumbers
{
    private readonly Dictionary<string, int> _positions = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, int> _codes = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, int> _batches = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Positions by number.</summary>
    public IReadOnlyList<string> Positions => [.. _positions.Keys];

    /// <summary>Fault codes by number.</summary>
    public IReadOnlyList<string> Codes => [.. _codes.Keys];

    /// <summary>Number of a position.</summary>
    /// <param name="code">Its code.</param>
    public int Position(string code) => Of(_positions, code);

    /// <summary>Number of a fault code.</summary>
    /// <param name="code">The code.</param>
    public int Code(string code) => Of(_codes, code);

    /// <summary>Number of a batch.</summary>
    /// <param name="batch">The batch.</param>
    public int Batch(string batch) => Of(_batches, batch);

    private static int Of(Dictionary<string, int> numbers, string text)
    {
        if (!numbers.TryGetValue(text, out int number))
        {
            numbers[text] = number = numbers.Count;
        }

        return number;
    }
}
