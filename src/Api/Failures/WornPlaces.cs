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
        FleetLife[] usable = [.. wear.Lives.Where(life => life.Doubt is null && life.Ages.Days is { } ages && ages.End > ages.Entry)];
        Dictionary<string, Weibull?> curves = usable.Select(life => life.Position).Distinct(StringComparer.OrdinalIgnoreCase)
            .ToDictionary(position => position, wear.Models.Curve, StringComparer.OrdinalIgnoreCase);
        PartHazard[] modelled = [.. usable.Where(life => curves[life.Position] is not null).Select(life => PartHazard.Of(life, curves[life.Position]!, numbers))];
        (IReadOnlyList<WornPlace> units, IReadOnlyList<WornPlace> batches) = ([], []);
        Parallel.Invoke(
            () => units = Test(modelled, part => part.Life.Unit.Id),
            () => batches = Test(modelled.Where(part => part.Batch is not null), part => part.Batch!.Value));
        return new WornPlaces(
            units, batches, numbers, [.. curves.Where(pair => pair.Value is null).Select(pair => pair.Key).Order(StringComparer.Ordinal)]);
    }

    private static WornPlace[] Test(IEnumerable<PartHazard> parts, Func<PartHazard, int> group)
    {
        var places = new Dictionary<(int Group, int Position), Tally>();
        foreach (PartHazard part in parts)
        {
            (int, int) key = (group(part), part.Position);
            if (!places.TryGetValue(key, out Tally? tally))
            {
                places[key] = tally = new Tally();
            }

            tally.Add(part);
        }

        IReadOnlyList<Excess> tested = ExcessFailures.Test(
            [.. places.Select(pair => new WatchedFailures(pair.Key.Group, pair.Key.Position, pair.Value.Failures, pair.Value.Expected))], FalseDiscoveryRate);
        return [.. tested.Zip(places.Values, (excess, place) => new WornPlace(excess, place.Lives))];
    }

    /// <summary>A part with what its model expects of it.</summary>
    private readonly record struct PartHazard(FleetLife Life, int Position, int? Batch, double Expected)
    {
        public static PartHazard Of(FleetLife life, Weibull curve, FailureNumbers numbers)
        {
            LifeAges ages = life.Ages.Days!.Value;
            return new PartHazard(
                life, numbers.Position(life.Position), life.Batch is { } batch ? numbers.Batch(batch) : null,
                curve.CumulativeHazardAt(ages.End) - curve.CumulativeHazardAt(ages.Entry));
        }
    }

    private sealed class Tally
    {
        public int Failures { get; private set; }

        public double Expected { get; private set; }

        public List<FleetLife> Lives { get; } = [];

        public void Add(in PartHazard part)
        {
            Failures += part.Life.Failed ? 1 : 0;
            Expected += part.Expected;
            Lives.Add(part.Life);
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
