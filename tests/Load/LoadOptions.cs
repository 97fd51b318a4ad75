using Washwear.Faults;
using Washwear.Faults.Served;

namespace Washwear.Load;

/// <summary>What every command is told.</summary>
/// <param name="Folder">Folder of the prepared fleet.</param>
/// <param name="Program">The program under test: its executable or dll; null: the one beside this tool.</param>
/// <param name="Url">Loopback address that it listens on; port 0: any that is free.</param>
/// <param name="Seed">Seed of everything that is left to chance; moments of the machine itself are not in it.</param>
internal sealed record LoadOptions(string Folder, string? Program, string Url, int Seed)
{
    /// <summary>Settings of the program under test, each name=value.</summary>
    public IReadOnlyList<string> Settings { get; init; } = [];

    /// <summary>The database.</summary>
    public string Database => Path.Combine(Folder, "washwear.db");

    /// <summary>The same for what starts the program.</summary>
    public FaultOptions Served => new(1, Seed) { Folder = Folder, Program = Program, Url = Url };

    /// <summary>Starts the program on the database.</summary>
    public Task<ServedProgram> ServeAsync() => ServedProgram.StartAsync(Served, Database, [.. Settings.SelectMany(Option)]);

    private static string[] Option(string setting)
    {
        string[] pair = setting.Split('=', 2);
        return pair.Length == 2
            ? ["--" + pair[0].Replace('_', '-'), pair[1]]
            : throw new InvalidOperationException($"'{setting}' is not name=value.");
    }
}
