using System.Collections.Concurrent;
using System.Diagnostics;
using System.Text.Json;

namespace Washwear.Fuzz;

/// <summary>What a run is asked to do.</summary>
/// <param name="Count">Requests.</param>
/// <param name="Seed">Seed; request number i is the same for the same seed, whatever runs beside it.</param>
/// <param name="Clients">Requests at once, so that several bodies share a transaction.</param>
/// <param name="PerFile">Requests after which a new database file is begun.</param>
/// <param name="OthersPercent">Share of requests that go elsewhere than to the one way in.</param>
/// <param name="Deadline">Longest that an answer may take.</param>
/// <param name="Cases">Folder for the cases that break something; null: they are not written.</param>
public sealed record FuzzOptions(int Count, int Seed, int Clients, int PerFile, int OthersPercent, TimeSpan Deadline, string? Cases);

/// <summary>Memory after a database file was closed and garbage collected.</summary>
/// <param name="Requests">Requests so far.</param>
/// <param name="HeapMib">Managed heap, MiB.</param>
/// <param name="ResidentMib">Resident set, MiB.</param>
public sealed record MemoryPoint(int Requests, double HeapMib, double ResidentMib);

/// <summary>What a run found.</summary>
/// <param name="Statuses">How often each status came.</param>
/// <param name="Accepted">Rows accepted.</param>
/// <param name="Slowest">Longest that an answer took.</param>
/// <param name="Memory">Memory at each new file.</param>
/// <param name="Faults">What was wrong.</param>
public sealed record FuzzResult(
    IReadOnlyDictionary<int, long> Statuses, long Accepted, TimeSpan Slowest, IReadOnlyList<MemoryPoint> Memory, IReadOnlyList<string> Faults);

/// <summary>Posts broken and good requests to the program, many at once, and judges every answer.</summary>
/// <param name="options">What to do.</param>
/// <param name="log">Takes a line for people.</param>
public sealed class FuzzRun(FuzzOptions options, Action<string> log) : IDisposable
{
    /// <summary>Most that the managed heap may grow from the first file to a later one, MiB.</summary>
    public const double HeapGrowthMib = 32;

    /// <summary>Most that the resident set may grow from the first file to a later one, MiB.</summary>
    public const double ResidentGrowthMib = 256;

    private const int MostFaults = 20;
    private const double Mebibyte = 1024 * 1024;

    private readonly ConcurrentDictionary<int, long> _statuses = new();
    private readonly List<MemoryPoint> _memory = [];
    private readonly List<string> _faults = [];
    private readonly SemaphoreSlim _oneFault = new(1);
    private long _accepted;
    private long _slowestTicks;

    /// <summary>Runs.</summary>
    public async Task<FuzzResult> RunAsync()
    {
        for (int first = 0; first < options.Count && _faults.Count < MostFaults; first += options.PerFile)
        {
            int last = Math.Min(first + options.PerFile, options.Count);
            await RunFileAsync(first, last);
            Measure(last);
        }

        if (_memory.Count > 1 && _memory.Skip(1).Max(point => point.HeapMib) - _memory[0].HeapMib > HeapGrowthMib)
        {
            _faults.Add($"the managed heap grew by more than {HeapGrowthMib} MiB");
        }

        if (_memory.Count > 1 && _memory.Skip(1).Max(point => point.ResidentMib) - _memory[0].ResidentMib > ResidentGrowthMib)
        {
            _faults.Add($"the resident set grew by more than {ResidentGrowthMib} MiB");
        }

        return new FuzzResult(_statuses, _accepted, TimeSpan.FromTicks(_slowestTicks), _memory, _faults);
    }

    /// <inheritdoc/>
    public void Dispose() => _oneFault.Dispose();

    // Records go to one program, all else to another, so that the ledger of the first holds just what was said to be accepted.
    private async Task RunFileAsync(int first, int last)
    {
        await using FuzzedHost records = await FuzzedHost.StartAsync(options.Deadline);
        await using FuzzedHost others = await FuzzedHost.StartAsync(options.Deadline);
        Contract contract = await Contract.ReadAsync(records.Client);
        using JsonDocument token = JsonDocument.Parse(await others.Client.GetStringAsync("/visits/form-token"));
        var otherCases = new OtherCases(contract, token.RootElement.GetProperty("field").GetString()!, token.RootElement.GetProperty("token").GetString()!);
        int next = first - 1;
        long accepted = 0;
        async Task WorkAsync()
        {
            for (int number = Interlocked.Increment(ref next); number < last; number = Interlocked.Increment(ref next))
            {
                var random = new Random(unchecked((options.Seed * 1_000_003) + number));
                bool elsewhere = random.Chance(options.OthersPercent);
                FuzzCase made = elsewhere ? otherCases.Make(random) : RecordCases.Make(random, number);
                Interlocked.Add(ref accepted, await SendAsync((elsewhere ? others : records).Client, made, contract, number));
            }
        }

        await Task.WhenAll(Enumerable.Range(0, options.Clients).Select(_ => Task.Run(WorkAsync)));
        _accepted += accepted;
        _faults.AddRange(await records.FaultsAsync(accepted));
        _faults.AddRange(await others.FaultsAsync(null));
    }

    private async Task<long> SendAsync(HttpClient client, FuzzCase made, Contract contract, int number)
    {
        long begun = Stopwatch.GetTimestamp();
        Verdict verdict = await Verdict.OfAsync(client, made, contract);
        long ticks = Stopwatch.GetElapsedTime(begun).Ticks;
        for (long slowest = _slowestTicks; ticks > slowest; slowest = _slowestTicks)
        {
            Interlocked.CompareExchange(ref _slowestTicks, ticks, slowest);
        }

        _statuses.AddOrUpdate(verdict.Status, 1, (_, count) => count + 1);
        return verdict.Accepted + (verdict.Fault is { } fault ? await KeepAsync(client, made, contract, number, fault) : 0);
    }

    private async Task<long> KeepAsync(HttpClient client, FuzzCase made, Contract contract, int number, string fault)
    {
        await _oneFault.WaitAsync();
        try
        {
            if (_faults.Count >= MostFaults)
            {
                return 0;
            }

            long accepted = 0;
            FuzzCase smallest = await Minimiser.SmallerAsync(made, async candidate =>
            {
                Verdict again = await Verdict.OfAsync(client, candidate, contract);
                accepted += again.Accepted;
                return again.Fault is { } same && same[..Math.Min(10, same.Length)] == fault[..Math.Min(10, fault.Length)];
            });
            string line = $"request {number} of seed {options.Seed}, {made.Method} {made.Path}: {fault}";
            _faults.Add(line);
            log(line);
            if (options.Cases is { } folder)
            {
                Directory.CreateDirectory(folder);
                await File.WriteAllTextAsync(Path.Combine(folder, FormattableString.Invariant($"seed-{options.Seed}-{number}.json")), (smallest with { Found = fault }).ToJson());
            }

            return accepted;
        }
        finally
        {
            _oneFault.Release();
        }
    }

    private void Measure(int requests)
    {
        long heap = GC.GetTotalMemory(forceFullCollection: true);
        var point = new MemoryPoint(requests, heap / Mebibyte, Environment.WorkingSet / Mebibyte);
        _memory.Add(point);
        string statuses = string.Join(", ", _statuses.OrderBy(pair => pair.Key).Select(pair => FormattableString.Invariant($"{pair.Key}: {pair.Value}")));
        log(FormattableString.Invariant($"{requests} requests; heap {point.HeapMib:0.0} MiB, resident {point.ResidentMib:0} MiB; {_accepted} rows accepted; {statuses}"));
    }
}
