using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.Json;

namespace Washwear.Load.Measured;

/// <summary>A figure beside the limit that it is held to.</summary>
/// <param name="What">What was measured.</param>
/// <param name="Value">The figure.</param>
/// <param name="Bound">The limit.</param>
/// <param name="Least">Whether the limit is the least that is wanted; else the most.</param>
internal sealed record Limit(string What, double Value, double Bound, bool Least = false)
{
    /// <summary>Whether it is kept.</summary>
    public bool Kept => Least ? Value >= Bound : Value <= Bound;
}

/// <summary>Tells what was measured, as it comes and as a file.</summary>
/// <param name="command">The command.</param>
/// <param name="options">What it was told.</param>
internal sealed class LoadReport(string command, LoadOptions options)
{
    private static readonly JsonSerializerOptions Form = new() { WriteIndented = true, PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };
    private readonly List<string> _lines = [];
    private readonly List<Limit> _limits = [];
    private readonly Dictionary<string, object> _figures = [];

    /// <summary>Whether all limits are kept so far.</summary>
    public bool Kept => _limits.TrueForAll(limit => limit.Kept);

    /// <summary>Tells a line.</summary>
    /// <param name="text">The line.</param>
    public void Line(FormattableString text)
    {
        string line = text.ToString(CultureInfo.InvariantCulture);
        _lines.Add(line);
        Console.Out.WriteLine(line);
    }

    /// <summary>Says what the figures are measured on.</summary>
    public void Machine() => Line(
        $"## {command}, seed {options.Seed}; {RuntimeInformation.OSDescription.Trim()}, {Environment.ProcessorCount} cores, for both sides; {RuntimeInformation.FrameworkDescription}");

    /// <summary>Tells a figure beside its limit.</summary>
    /// <param name="limit">The two.</param>
    public void Against(Limit limit)
    {
        _limits.Add(limit);
        Line($"{limit.What}: {limit.Value:0.###} (limit: at {(limit.Least ? "least" : "most")} {limit.Bound:0.###}) {(limit.Kept ? "kept" : "NOT KEPT")}");
    }

    /// <summary>Puts figures into the file.</summary>
    /// <param name="name">Their name.</param>
    /// <param name="figures">The figures.</param>
    public void Put(string name, object figures) => _figures[name] = figures;

    /// <summary>Tells a table of routes and puts it into the file.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="figures">The figures.</param>
    public void Routes(string name, Figures figures)
    {
        IReadOnlyList<RouteRow> rows = figures.Rows();
        Put(name, rows);
        Line($"| route | requests | errors | median ms | p95 ms | p99 ms | worst ms | answers |");
        Line($"|---|---:|---:|---:|---:|---:|---:|---|");
        foreach (RouteRow row in rows)
        {
            string statuses = string.Join(", ", row.Statuses.Select(pair => $"{(pair.Key == 0 ? "none" : pair.Key)}: {pair.Value}"));
            Line($"| {row.Route} | {row.Requests} | {row.Errors} | {row.MedianMs:0.0} | {row.P95Ms:0.0} | {row.P99Ms:0.0} | {row.WorstMs:0.0} | {statuses} |");
        }

        foreach (string complaint in figures.Complaints)
        {
            Line($"ERROR {complaint}");
        }
    }

    /// <summary>Tells what the server used and puts it into the file with all looks.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="watch">The looks.</param>
    public ServerUse Server(string name, ServerWatch watch)
    {
        ServerUse use = watch.Use();
        Put(name, new { use, watch.Looks });
        Line($"server: resident {use.BeginMib:0} MiB at the begin, {use.MiddleMib:0} half-way, {use.EndMib:0} at the end, largest {use.LargestMib:0}; slope after the first third {use.SlopeMibPerHour:0.0} MiB an hour; {use.Cores:0.00} cores busy");
        return use;
    }

    /// <summary>Says how it ended and writes the file.</summary>
    /// <param name="stamp">Instant for the file's name.</param>
    /// <returns>0: all limits were kept; 1: not.</returns>
    public int End(DateTimeOffset stamp)
    {
        Line($"{(Kept ? "Every limit was kept." : "NOT KEPT: " + string.Join("; ", _limits.Where(limit => !limit.Kept).Select(limit => limit.What)))}");
        string file = Path.Combine(options.Folder, string.Create(CultureInfo.InvariantCulture, $"load-{command}-{stamp:yyyyMMddTHHmmss}.json"));
        var whole = new { command, options.Seed, Kept, Limits = _limits.Select(limit => new { limit.What, limit.Value, Limit = limit.Bound, limit.Least, limit.Kept }), Figures = _figures, Lines = _lines };
        File.WriteAllText(file, JsonSerializer.Serialize(whole, Form));
        Console.Out.WriteLine("Figures in " + file);
        return Kept ? 0 : 1;
    }
}
