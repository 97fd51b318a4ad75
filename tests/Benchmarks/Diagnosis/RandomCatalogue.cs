using Washwear.Analytics.Diagnosis;

namespace Washwear.Benchmarks.Diagnosis;

/// <summary>Catalogues drawn at random, whose probabilities are true: 5 causes and 'something else', 8 checks in no particular order.</summary>
internal static class RandomCatalogue
{
    private const int Causes = 5;
    private const int Checks = 8;

    public static IEnumerable<FaultCase> Cases(int seed, int catalogues, int faults)
    {
        var random = new Random(seed);
        for (int catalogue = 0; catalogue < catalogues; catalogue++)
        {
            // The chance of something else is a twentieth, that of the others spread widely.
            double[] weights = [.. Enumerable.Range(0, Causes).Select(_ => -Math.Log(1 - random.NextDouble()))];
            double[] p = [.. weights.Select(weight => 0.95 * weight / weights.Sum()), 0.05];
            DiagnosticCheck[] checks = [.. Enumerable.Range(0, Checks).Select(check => Draw(random, check))];
            double?[] repair = [.. Enumerable.Range(0, Causes).Select(_ => (double?)Between(random, 15, 90)), null];
            DiagnosisCase diagnosis = new(p, checks, repair);
            for (int fault = 0; fault < faults; fault++)
            {
                yield return new FaultCase($"{catalogue}", OneOf(random, p), diagnosis, [], 0, 0);
            }
        }
    }

    // Each cause has a check of its own; the others speak of one or two. Minutes are spread as those of the demo catalogue, 3 to 30.
    private static DiagnosticCheck Draw(Random random, int check)
    {
        int[] speaksOf = check < Causes ? [check] : [random.Next(Causes), random.Next(Causes)];
        return new DiagnosticCheck(
            $"{check}", 3 * Math.Pow(10, random.NextDouble()), speaksOf, Between(random, 0.02, 0.2), Between(random, 0.01, 0.1));
    }

    private static double Between(Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    private static int OneOf(Random random, double[] p)
    {
        double left = random.NextDouble();
        int cause = 0;
        while (cause < p.Length - 1 && left >= p[cause])
        {
            left -= p[cause++];
        }

        return cause;
    }
}
