using System.Text.Json;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

/// <summary>Reads the published checks on order, whose causes and checks are numbered from 1.</summary>
internal static class PublishedOrders
{
    public static double[] Numbers(JsonElement of, string name) =>
        [.. of.GetProperty(name).EnumerateArray().Select(number => number.GetDouble())];

    /// <summary>A check of the list: it speaks of one cause or several, and its minutes play no part.</summary>
    public static DiagnosticCheck Check(JsonElement check)
    {
        JsonElement causes = check.GetProperty("speaks_of");
        int[] speaksOf = causes.ValueKind == JsonValueKind.Array
            ? [.. causes.EnumerateArray().Select(cause => cause.GetInt32() - 1)]
            : [causes.GetInt32() - 1];
        return new DiagnosticCheck(
            check.GetProperty("name").GetRawText(), 1, speaksOf, check.GetProperty("miss").GetDouble(), check.GetProperty("false_alarm").GetDouble());
    }

    public static void AssertAllClose(PublishedCheck check, JsonElement expected, IReadOnlyList<double> actual)
    {
        Assert.Equal(expected.GetArrayLength(), actual.Count);
        for (int i = 0; i < actual.Count; i++)
        {
            check.AssertClose(expected[i], actual[i], $"[{i}]");
        }
    }
}
