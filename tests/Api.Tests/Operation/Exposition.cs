using System.Globalization;
using System.Text.RegularExpressions;

namespace Washwear.Api.Tests.Operation;

/// <summary>A small strict reader of the Prometheus text format, version 0.0.4 (prometheus.io, "Exposition formats").</summary>
internal sealed partial class Exposition
{
    private readonly Dictionary<string, double> _samples = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _types = new(StringComparer.Ordinal);

    /// <summary>Series as they were written, such as name{label="value"}, with their values.</summary>
    public IReadOnlyDictionary<string, double> Samples => _samples;

    /// <summary>Type of each metric.</summary>
    public IReadOnlyDictionary<string, string> Types => _types;

    /// <summary>Reads a text; fails on whatever the format does not allow.</summary>
    public static Exposition Read(string text)
    {
        var read = new Exposition();
        Assert.EndsWith("\n", text, StringComparison.Ordinal);
        foreach (string line in text.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            read.Line(line);
        }

        read.CheckHistograms();
        return read;
    }

    /// <summary>The value of the series of a name whose labels include all these; 0: there is none; several are added up.</summary>
    public double Sum(string name, params string[] labels) => _samples
        .Where(sample => sample.Key.Split('{')[0] == name && labels.All(label => sample.Key.Contains(label, StringComparison.Ordinal)))
        .Sum(sample => sample.Value);

    private void Line(string line)
    {
        if (line.StartsWith("# TYPE ", StringComparison.Ordinal))
        {
            string[] words = line.Split(' ');
            Assert.True(_types.TryAdd(words[2], words[3]), "typed twice: " + line);
            Assert.Contains(words[3], (string[])["counter", "gauge", "histogram", "summary", "untyped"]);
            return;
        }

        if (line.StartsWith('#'))
        {
            return;
        }

        Match sample = Sample().Match(line);
        Assert.True(sample.Success, "no sample: " + line);
        string series = sample.Groups["series"].Value;
        string value = sample.Groups["value"].Value;
        double number = value == "+Inf" ? double.PositiveInfinity : double.Parse(value, NumberStyles.Float, CultureInfo.InvariantCulture);
        Assert.True(_samples.TryAdd(series, number), "the same series twice: " + line);
        string name = series.Split('{')[0];
        Assert.True(_types.ContainsKey(name) || _types.ContainsKey(HistogramPart().Replace(name, string.Empty)), "no type: " + line);
    }

    // Buckets add up, and the last is the count.
    private void CheckHistograms()
    {
        foreach (string name in _types.Where(type => type.Value == "histogram").Select(type => type.Key))
        {
            foreach (IGrouping<string, KeyValuePair<string, double>> series in _samples.Where(sample => sample.Key.StartsWith(name + "_bucket{", StringComparison.Ordinal))
                .GroupBy(sample => LessThan().Replace(sample.Key, string.Empty)))
            {
                double[] counts = [.. series.Select(sample => sample.Value)];
                Assert.Equal(counts.Order(), counts);
                Assert.Contains("le=\"+Inf\"", series.Last().Key, StringComparison.Ordinal);
            }
        }
    }

    [GeneratedRegex("""^(?<series>[a-zA-Z_:][a-zA-Z0-9_:]*(\{([a-zA-Z_][a-zA-Z0-9_]*="([^"\\\n]|\\.)*",?)*\})?) (?<value>\S+)( \d+)?$""")]
    private static partial Regex Sample();

    [GeneratedRegex("_(bucket|sum|count|total)$")]
    private static partial Regex HistogramPart();

    [GeneratedRegex(",?le=\"[^\"]*\"")]
    private static partial Regex LessThan();
}
