using Washwear.Fuzz;

namespace Washwear.Api.Tests.Http;

/// <summary>Requests that once broke something, and a short run of the tool that found them, so that it cannot rot.</summary>
public sealed class FuzzTests
{
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(30);

    public static TheoryData<string> Cases =>
        [.. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Data", "fuzz"), "*.json").Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task What_once_broke_something_breaks_nothing(string file)
    {
        await using FuzzedHost host = await FuzzedHost.StartAsync(Deadline);
        Contract contract = await Contract.ReadAsync(host.Client);
        FuzzCase once = FuzzCase.Parse(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "Data", "fuzz", file)));
        Verdict verdict = await Verdict.OfAsync(host.Client, once, contract);
        Assert.True(verdict.Fault is null, verdict.Fault);
        Assert.Empty(await host.FaultsAsync(null));
    }

    [Fact]
    public async Task A_short_run_breaks_nothing()
    {
        using var run = new FuzzRun(new FuzzOptions(600, 20261126, 16, 300, 20, Deadline, null), _ => { });
        FuzzResult result = await run.RunAsync();
        Assert.Empty(result.Faults);
        Assert.Equal(600, result.Statuses.Values.Sum());
        Assert.True(result.Accepted > 100, $"only {result.Accepted} rows accepted: the good requests are good no more");
        Assert.True(result.Statuses.GetValueOrDefault(400) > 50, "hardly anything was refused: the bad requests are bad no more");
    }

    [Fact]
    public async Task An_answer_that_is_no_problem_is_a_fault()
    {
        await using FuzzedHost host = await FuzzedHost.StartAsync(Deadline);
        Contract contract = await Contract.ReadAsync(host.Client);
        var narrow = new Contract(contract.Operations.ToDictionary(
            pair => pair.Key, pair => pair.Value with { Answers = new Dictionary<int, IReadOnlyList<string>>() }));
        Verdict verdict = await Verdict.OfAsync(host.Client, new FuzzCase("GET", "/v1/units", [], null, "GET /v1/units"), narrow);
        Assert.Equal("status 200 is not declared", verdict.Fault);
        Assert.Equal(["1 rows were said to be accepted, 0 are in the ledger"], await host.FaultsAsync(1));
    }
}
