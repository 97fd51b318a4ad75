using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using Washwear.Faults;
using Washwear.Faults.Backup;
using Washwear.Faults.Clock;
using Washwear.Faults.Corrupt;
using Washwear.Faults.FullDisk;
using Washwear.Faults.Kill;
using Washwear.Faults.PowerCut;
using Washwear.Faults.ReadOnly;
using Washwear.Faults.SecondProcess;
using Washwear.Faults.Stop;

// Tries what may befall an installation, against the real program in a process of its own; ends with 1 if a promise was broken.
(string Name, string Sentence, int Count, Func<FaultOptions, Findings, Task> Run)[] all =
[
    ("kill", "SIGKILL at random moments while records come in.", 50, KillFault.RunAsync),
    ("stop", "SIGTERM at random moments while records come in.", 20, StopFault.RunAsync),
    ("full-disk", "The disk fills up while records come in.", 20, FullDiskFault.RunAsync),
    ("read-only", "The file and its folder may only be read.", 3, ReadOnlyFault.RunAsync),
    ("clock", "The clock jumps, back and ahead (needs libfaketime).", 40, ClockFault.RunAsync),
    ("second-process", "Other processes work on the same file.", 5, SecondProcessFault.RunAsync),
    ("power-cut", "The files are copied while they are written, whole and torn.", 40, PowerCutFault.RunAsync),
    ("backup", "Backups while records come in, and the way back.", 10, BackupFault.RunAsync),
    ("corrupt", "Bytes of the file change.", 50, CorruptFault.RunAsync),
];

var count = new Option<int?>("--count") { Description = "How many rounds; left out: the fault's usual number." };
var seed = new Option<int>("--seed") { Description = "Seed of what is left to chance.", DefaultValueFactory = _ => 1 };
var lanes = new Option<int>("--lanes") { Description = "How many databases at the same time (kill only).", DefaultValueFactory = _ => 1 };
var url = new Option<string>("--url") { Description = "Address to listen on; port 0: any that is free.", DefaultValueFactory = _ => "http://127.0.0.1:0" };
var program = new Option<FileInfo?>("--program") { Description = "The program under test: a published executable or a dll; left out: the one built with this tool." };
var folder = new Option<DirectoryInfo?>("--folder") { Description = "Folder to work in, made if need be; left out: a temporary one." };
var root = new RootCommand("Tries what may befall an installation of Washwear.");
foreach (Option option in (Option[])[count, seed, lanes, url, program, folder])
{
    option.Recursive = true;
    root.Add(option);
}

foreach ((string name, string sentence, int usual, Func<FaultOptions, Findings, Task> run) in all)
{
    var command = new Command(name, sentence);
    command.SetAction(asked => RunAsync(name, run, new FaultOptions(asked.GetValue(count) ?? usual, asked.GetValue(seed))
    {
        Url = asked.GetValue(url)!,
        Program = asked.GetValue(program)?.FullName,
        Folder = asked.GetValue(folder)?.FullName,
        Lanes = asked.GetValue(lanes),
        Out = Console.Out,
    }));
    root.Add(command);
}

return await root.Parse(args).InvokeAsync();

static async Task<int> RunAsync(string name, Func<FaultOptions, Findings, Task> run, FaultOptions asked)
{
    string work = asked.Folder is { } chosen
        ? Directory.CreateDirectory(chosen).FullName
        : Directory.CreateTempSubdirectory("washwear-faults-").FullName;
    var findings = new Findings();
    Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture,
        $"## {name}: {asked.Count} rounds, seed {asked.Seed}; {RuntimeInformation.OSDescription.Trim()}, {Environment.ProcessorCount} cores"));
    long start = Stopwatch.GetTimestamp();
    await run(asked with { Folder = work }, findings);
    findings.Print(Console.Out);
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Stopwatch.GetElapsedTime(start).TotalMinutes:F1} minutes"));
    if (findings.Violations.Count > 0)
    {
        Console.WriteLine("What was left is in " + work);
        return 1;
    }

    Directory.Delete(work, recursive: true);
    return 0;
}
