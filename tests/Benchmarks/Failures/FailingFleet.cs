using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Benchmarks.Failures;

/// <summary>An invented fleet whose units fault, are visited and get parts: about 20 failures a unit in three years.</summary>
/// <param name="units">How many units.</param>
/// <param name="now">When the records end.</param>
internal sealed class FailingFleet(int units, DateTimeOffset now)
{
    private const string Source = "benchmark";
    private const int UnitsPerSite = 5;
    private const int Days = 3 * 365;
    private const int FaultsAUnit = 12;
    private static readonly string[] Positions = ["pump", "hose", "valve", "element", "gasket", "arm"];
    private static readonly string[] Codes = ["F1", "F2", "F3", "F4"];
    private int _keys;

    /// <summary>Units.</summary>
    public int Units => units;

    /// <summary>Failures: faults, and parts that failed.</summary>
    public int Failures => 20 * units;

    /// <summary>The registry.</summary>
    public RegistryDocument Registry()
    {
        DateOnly begin = DateOnly.FromDateTime(now.UtcDateTime.AddDays(-Days - 3));
        return new RegistryDocument(
            [.. Enumerable.Range(0, 20).Select(o => new OperatorResource($"OP-{o}", $"Operator {o} (invented)"))],
            [
                .. Enumerable.Range(0, ((units + UnitsPerSite - 1) / UnitsPerSite)).Select(s => new SiteResource(
                    $"SITE-{s}", $"OP-{s % 20}", $"Kitchen {s} (invented)", "Europe/Vienna", $"region {s % 7}")),
            ],
            [
                new ModelResource(
                    "M", "Oven (invented)", "combi oven", [.. Positions.Select(position => new PositionResource(position, position))],
                    [new ProgrammeResource("daily", ProgrammeGrade.Standard)],
                    [.. Codes.Select((code, i) => new FaultResource(code, "Fault " + code + " (invented)", LocksOutWashing: i < 2))]),
            ],
            [.. Enumerable.Range(0, units).Select(u => new UnitResource($"U-{u}", $"SITE-{u / UnitsPerSite}", "M", null, begin))],
            []);
    }

    /// <summary>The records, unit by unit.</summary>
    public IEnumerable<IncomingRecord> Records() => Enumerable.Range(0, units).SelectMany(Of);

    /// <summary>A fault that was just raised.</summary>
    public string Next() => FormattableString.Invariant(
        $$"""{"type":"fault","key":"n{{_keys++}}","unit":"U-1","code":"F3","at":"{{now.AddMinutes(-_keys):yyyy-MM-ddTHH:mm:ssZ}}"}""");

    private IEnumerable<IncomingRecord> Of(int unit)
    {
        var random = new Random(unit);
        string code = $"U-{unit}";
        DateTimeOffset begin = now.AddDays(-Days);
        for (int week = 0; week < Days / 7; week++)
        {
            DateTimeOffset at = begin.AddDays(7 * week).AddMinutes(random.Next(600));
            yield return new WashRecord(
                Source, $"{unit}-w{week}", code, at, null, at.AddMinutes(100), "daily", null, WashOutcome.Completed, null, null, null, null);
        }

        for (int i = 0; i < FaultsAUnit; i++)
        {
            DateTimeOffset at = begin.AddDays(random.NextDouble() * (Days - 5));
            yield return new FaultRecord(Source, $"{unit}-f{i}", code, at, null, Codes[random.Next(Codes.Length)], at.AddHours(4 + random.Next(60)));
        }

        foreach (string position in Positions)
        {
            yield return new PartChangeRecord(Source, $"{unit}-{position}", code, begin, null, position, null, new NewPart("P-" + position, $"B{random.Next(20)}", null, null, null));
        }

        for (int i = 0; i < 20 - FaultsAUnit; i++)
        {
            DateTimeOffset at = begin.AddDays(2 + (random.NextDouble() * (Days - 5)));
            string position = Positions[random.Next(Positions.Length)];
            yield return new PartChangeRecord(
                Source, $"{unit}-p{i}", code, at, null, position,
                new RemovedPart(RemovalReason.Failed, "worn", null, null), new NewPart("P-" + position, $"B{random.Next(20)}", null, null, null));
        }
    }
}
