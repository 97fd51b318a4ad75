using CsCheck;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

/// <summary>A small random case.</summary>
public sealed record RandomCase(double[] Probabilities, DiagnosticCheck[] Checks, double[] RepairMinutes)
{
    public override string ToString() => FormattableString.Invariant(
        $"p {string.Join(' ', Probabilities)}; repair {string.Join(' ', RepairMinutes)}; ")
        + string.Join("; ", Checks.Select(check => FormattableString.Invariant(
            $"{check.Minutes} min of {string.Join(',', check.SpeaksOf)} miss {check.Miss} false {check.FalseAlarm}")));
}

/// <summary>Draws small cases.</summary>
internal static class RandomCases
{
    private static readonly Gen<double> Minutes = Gen.Double[0.5, 40];

    /// <summary>Checks that speak of any causes, with errors up to a share.</summary>
    public static Gen<RandomCase> Case(int causes, int checks, double mostError) => Gen.Select(
        Probabilities(causes), Check(causes, mostError).Array[checks], Minutes.Array[causes],
        (probabilities, drawn, repair) => new RandomCase(probabilities, drawn, repair));

    /// <summary>One check a cause, and no other.</summary>
    public static Gen<RandomCase> OneCheckACause(int causes, double mostError) => Gen.Select(
        Probabilities(causes), Gen.Select(Minutes, Gen.Double[0, mostError], Gen.Double[0, mostError]).Array[causes], Minutes.Array[causes],
        (probabilities, drawn, repair) => new RandomCase(
            probabilities, [.. drawn.Select((d, i) => new DiagnosticCheck($"{i}", d.Item1, [i], d.Item2, d.Item3))], repair));

    private static Gen<double[]> Probabilities(int causes) => Gen.Double[0.01, 1].Array[causes].Select(weights =>
    {
        double sum = weights.Sum();
        return weights.Select(weight => weight / sum).ToArray();
    });

    private static Gen<DiagnosticCheck> Check(int causes, double mostError) => Gen.Select(
        Minutes, Gen.Int[1, (1 << causes) - 1], Gen.Double[0, mostError], Gen.Double[0, mostError],
        (minutes, set, miss, falseAlarm) => new DiagnosticCheck(
            $"{set:x}", minutes, [.. Enumerable.Range(0, causes).Where(cause => (set >> cause & 1) == 1)], miss, falseAlarm));
}
