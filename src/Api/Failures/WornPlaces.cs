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
        FleetLife[] modelled = [.. usable.Where(life => curves[life.Position] is not null)];
        return new WornPlaces(
            Test(modelled, curves, numbers, life => life.Unit.Id),
            Test(modelled.Where(life => life.Batch is not null), curves, numbers, life => numbers.Batch(life.Batch!)),
            numbers,
            [.. curves.Where(pair => pair.Value is null).Select(pair => pair.Key).Order(StringComparer.Ordinal)]);
    }

    private static List<WornPlace> Test(
        IEnumerable<FleetLife> lives, Dictionary<string, Weibull?> curves, FailureNumbers numbers, Func<FleetLife, int> group)
    {
        var places = new Dictionary<(int Group, int Position), (int Failures, double Expected, List<FleetLife> Lives)>();
        foreach (FleetLife life in lives)
        {
            (int, int) key = (group(life), numbers.Position(life.Position));
            LifeAges ages = life.Ages.Days!.Value;
            Weibull curve = curves[life.Position]!;
            (int failures, double expected, List<FleetLife> known) = places.TryGetValue(key, out var before) ? before : (0, 0, []);
            known.Add(life);
            places[key] = (
                failures + (life.Failed ? 1 : 0), expected + curve.CumulativeHazardAt(ages.End) - curve.CumulativeHazardAt(ages.Entry), known);
        }

        IReadOnlyList<Excess> tested = ExcessFailures.Test(
            [.. places.Select(pair => new WatchedFailures(pair.Key.Group, pair.Key.Position, pair.Value.Failures, pair.Value.Expected))], FalseDiscoveryRate);
        return [.. tested.Zip(places.Values, (excess, place) => new WornPlace(excess, place.Lives))];
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
