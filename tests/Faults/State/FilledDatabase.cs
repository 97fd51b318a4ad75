using Washwear.Faults.Served;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.State;

/// <summary>A database at rest with records of every type, photos, decisions and refused rows in it.</summary>
internal static class FilledDatabase
{
    /// <summary>Makes one.</summary>
    /// <param name="options">Where the program is.</param>
    /// <param name="findings">Where broken promises are told.</param>
    /// <param name="file">The database.</param>
    /// <param name="senders">How many senders fill it at the same time.</param>
    /// <param name="portions">How many requests each of them sends.</param>
    /// <returns>The senders, with what was acknowledged to them.</returns>
    public static async Task<Sender[]> MakeAsync(FaultOptions options, Findings findings, string file, int senders, int portions)
    {
        Sender[] all = Senders(options, findings, file, senders);
        await using ServedProgram program = await ServedProgram.StartAsync(options, file);
        using HttpClient client = await program.ClientAsync();
        await Fleet.PutAsync(client);
        await Task.WhenAll(all.Select(sender => Task.Run(() => sender.RunAsync(client, portions))));
        await program.StopAsync();
        return all;
    }

    /// <summary>Senders to a database, by the seed.</summary>
    /// <param name="options">The seed.</param>
    /// <param name="findings">Where broken promises are told.</param>
    /// <param name="file">The database.</param>
    /// <param name="count">How many.</param>
    public static Sender[] Senders(FaultOptions options, Findings findings, string file, int count)
    {
        var random = new Random(options.Seed);
        return [.. Enumerable.Range(0, count).Select(number => new Sender(number, random.Next(), findings, new LedgerState(file).SeqOf))];
    }
}
