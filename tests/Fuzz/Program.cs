using System.CommandLine;
using System.Diagnostics;

namespace Washwear.Fuzz;

/// <summary>Throws broken requests at the program for as long as it is told to; see DEVELOPERS.md.</summary>
public static class Program
{
    private static readonly Option<int> Count = new("--count") { Description = "Requests.", DefaultValueFactory = _ => 100_000 };
    private static readonly Option<int> Seed = new("--seed") { Description = "Seed.", DefaultValueFactory = _ => 1 };
    private static readonly Option<int> Clients = new("--clients") { Description = "Requests at once.", DefaultValueFactory = _ => 48 };
    private static readonly Option<int> PerFile = new("--per-file") { Description = "Requests a database file.", DefaultValueFactory = _ => 50_000 };
    private static readonly Option<int> Others = new("--others") { Description = "Share of requests that are no records, per cent.", DefaultValueFactory = _ => 10 };
    private static readonly Option<int> Deadline = new("--deadline") { Description = "Longest that an answer may take, seconds.", DefaultValueFactory = _ => 30 };
    private static readonly Option<string> Cases = new("--cases") { Description = "Folder for cases that break something.", DefaultValueFactory = _ => "fuzz-cases" };

    /// <summary>Runs.</summary>
    /// <param name="args">Options.</param>
    /// <returns>0: nothing broke; 1: something did.</returns>
    public static Task<int> Main(string[] args)
    {
        var command = new RootCommand("Posts broken and good requests to Washwear over loopback HTTP and judges every answer.") { Count, Seed, Clients, PerFile, Others, Deadline, Cases };
        command.SetAction(RunAsync);
        return command.Parse(args).InvokeAsync();
    }

    private static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        var options = new FuzzOptions(
            asked.GetValue(Count), asked.GetValue(Seed), asked.GetValue(Clients), asked.GetValue(PerFile), asked.GetValue(Others),
            TimeSpan.FromSeconds(asked.GetValue(Deadline)), asked.GetValue(Cases));
        var watch = Stopwatch.StartNew();
        using var run = new FuzzRun(options, Console.Out.WriteLine);
        FuzzResult result = await run.RunAsync();
        Console.Out.WriteLine(FormattableString.Invariant(
            $"{result.Statuses.Values.Sum()} requests of seed {options.Seed} in {watch.Elapsed.TotalSeconds:0} s; slowest answer {result.Slowest.TotalSeconds:0.00} s; {result.Faults.Count} faults"));
        foreach (string fault in result.Faults)
        {
            Console.Out.WriteLine("FAULT " + fault);
        }

        return result.Faults.Count == 0 ? 0 : 1;
    }
}
