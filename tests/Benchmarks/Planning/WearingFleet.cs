using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Benchmarks.Planning;

/// <summary>An invented fleet whose parts wear out: six positions a unit, Weibull lives of shape 3, replaced when they fail, with costs, suppliers
/// and crews, so that a plan has everything to weigh.</summary>
/// <param name="units">How many units.</param>
/// <param name="now">When the records end.</param>
internal sealed class WearingFleet(int units, DateTimeOffset now)
{
    private const string Source = "benchmark";
    private const int UnitsPerSite = 3;
    private const int StockPoints = 40;
    private const int Days = 3 * 365;
    private const int WashEveryDays = 14;
    private const double Shape = 3;
    private static readonly (string Position, double ScaleDays, double PartCost)[] Positions =
        [("pump", 900, 310), ("hose", 500, 22), ("valve", 1400, 95), ("element", 2200, 160), ("gasket", 700, 48), ("arm", 1800, 70)];

    /// <summary>The registry.</summary>
    public RegistryDocument Registry() => new(
        [new OperatorResource("OP", "Operator (invented)")],
        [
            .. Enumerable.Range(0, (units + UnitsPerSite - 1) / UnitsPerSite).Select(s => new SiteResource(
                $"SITE-{s}", "OP", $"Kitchen {s} (invented)", "Europe/Vienna", null, $"STORE-{s % StockPoints}")),
        ],
        [
            new ModelResource(
                "M", "Oven (invented)", "combi oven",
                [
                    .. Positions.Select((one, i) => new PositionResource(
                        one.Position, one.Position, null, ["P-" + one.Position], [Positions[(i + 1) % Positions.Length].Position], 30, one.PartCost, 90, 900)),
                ],
                [new ProgrammeResource("daily", ProgrammeGrade.Standard)],
                []),
        ],
        [.. Enumerable.Range(0, units).Select(u => new UnitResource($"U-{u}", $"SITE-{u / UnitsPerSite}", "M", null, DateOnly.FromDateTime(now.UtcDateTime.AddDays(-Days - 3))))],
        []);

    /// <summary>The records, unit by unit.</summary>
    public IEnumerable<IncomingRecord> Records() => Enumerable.Range(0, units).SelectMany(Of);

    private IEnumerable<IncomingRecord> Of(int unit)
    {
        var random = new Random(unit);
        string code = $"U-{unit}";
        DateTimeOffset begin = now.AddDays(-Days);
        for (int day = 1; day < Days; day += WashEveryDays)
        {
            DateTimeOffset at = begin.AddDays(day);
            yield return new WashRecord(
                Source, $"{unit}-w{day}", code, at, null, at.AddMinutes(100), "daily", null, WashOutcome.Completed, null, null, null, null);
        }

        foreach ((string position, double scale, _) in Positions)
        {
            var part = new NewPart("P-" + position, null, null, null, null);
            yield return new PartChangeRecord(Source, $"{unit}-{position}", code, begin, null, position, null, part);
            int ordinal = 0;
            for (double day = Life(random, scale); day < Days - 1; day += Life(random, scale))
            {
                yield return new PartChangeRecord(
                    Source, $"{unit}-{position}-{ordinal++}", code, begin.AddDays(day), null, position, new RemovedPart(RemovalReason.Failed, "worn", null, null), part);
            }
        }
    }

    private static double Life(Random random, double scale) => scale * Math.Pow(-Math.Log(1 - random.NextDouble()), 1 / Shape);
}
