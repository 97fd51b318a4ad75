namespace Washwear.Faults;

/// <summary>How a fault is tried.</summary>
/// <param name="Count">How many rounds: kills, cuts, flips.</param>
/// <param name="Seed">Seed of everything that is left to chance; moments of the machine itself (scheduling) are not in it.</param>
internal sealed record FaultOptions(int Count, int Seed)
{
    /// <summary>Address that the program under test listens on; port 0: any that is free.</summary>
    public string Url { get; init; } = "http://127.0.0.1:0";

    /// <summary>The program under test: its executable, or its dll; null: the one built beside this tool.</summary>
    public string? Program { get; init; }

    /// <summary>Folder to work in; null: a temporary one.</summary>
    public string? Folder { get; init; }

    /// <summary>How many databases are tried at the same time.</summary>
    public int Lanes { get; init; } = 1;

    /// <summary>Where figures are told while it runs.</summary>
    public TextWriter Out { get; init; } = TextWriter.Null;
}
