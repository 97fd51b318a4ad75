using System.Globalization;
using Washwear.Faults.Served;
using Washwear.Load.Fleet;
using Washwear.Load.Measured;
using Washwear.Load.Traffic;

namespace Washwear.Load.Looks;

/// <summary>How pages are looked at, and what they are held to.</summary>
/// <param name="Rounds">How often each is looked at.</param>
/// <param name="MostMs">Most that the median of a page's looks may take, ms.</param>
internal sealed record LooksOptions(int Rounds, double MostMs);

/// <summary>One reader looks at page after page of a prepared fleet; a record comes in before each look, so that nothing is as it was.</summary>
internal static class LooksLoad
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    private static readonly string[] Positions = ["wash-pump", "delivery-hose"];

    // {unit}, {site} and {operator} stand for those of the first unit of the fleet.
    private static readonly string[] Pages =
    [
        "/", "/?for=technician", "/?for=service", "/?for=operator", "/?for=planner", "/search?q=012", "/cleaning", "/cleaning?state=overdue",
        "/cleaning?operator={operator}", "/sites", "/sites/{site}", "/sites/{site}/timeline", "/operators", "/operators/{operator}",
        "/operators/{operator}/report", "/operators/{operator}/timeline", "/units", "/units/{unit}", "/units/{unit}/timeline", "/units/{unit}/visit-sheet",
        "/visits/new?unit={unit}", "/alerts", "/approvals", "/repairs", "/digest", "/board", "/failures", "/failures/records", .. Positions.SelectMany(OfPosition),
        "/planning", "/planning/parts", "/planning/stock", "/planning/forecast", "/planning/what-if", "/charts/cleaning/on-time.svg",
        "/charts/cleaning/causes.svg", "/charts/cleaning/trend.svg", "/charts/failures/monthly.svg", "/charts/failures/recurrence.svg",
        "/charts/failures/rates.svg", "/charts/failures/pareto.svg", "/charts/repairs/delays.svg", "/charts/planning/forecast.svg", "/charts/planning/cost.svg",
        "/charts/units/{unit}/washes.svg", "/charts/units/{unit}/signs.svg",
    ];

    /// <summary>Runs it.</summary>
    /// <param name="options">Where.</param>
    /// <param name="looks">How.</param>
    /// <returns>0: every limit was kept; 1: not.</returns>
    public static async Task<int> RunAsync(LoadOptions options, LooksOptions looks)
    {
        DateTimeOffset stamp = TimeProvider.System.GetUtcNow();
        PreparedFleet fleet = PreparedFleet.Read(options.Folder);
        IReadOnlyList<LoadKey> keys = await KeyRing.ReadOrMakeAsync(options, fleet);
        var report = new LoadReport("looks", options);
        report.Machine();
        report.Line($"{fleet.Units.Count} units in use, {fleet.Records} records prepared; each page {looks.Rounds} times, a record before each look");
        await using ServedProgram program = await options.ServeAsync();
        using var caller = new Caller(await program.ListensAsync(), 2, Patience);
        LoadKey reader = keys.First(key => key.Role == "manager" && key.Units is null);
        LoadKey gateway = keys.First(key => key.Role == "gateway" && key.Units is null);
        var maker = new RecordMaker(fleet, fleet.Units, gateway.Name, new SentRecords(string.Create(CultureInfo.InvariantCulture, $"l{stamp:yyyyMMddHHmmss}")), new Random(options.Seed));
        var first = new Figures();
        var figures = new Figures();
        for (int round = 0; round <= looks.Rounds; round++)
        {
            foreach (string page in Pages)
            {
                await PostAsync(caller, gateway, maker);
                Call call = Call.Get(page, Filled(page, fleet.Units[0]), reader.Secret);
                (round == 0 ? first : figures).Add(call, await caller.SendAsync(call));
            }
        }

        report.Line($"The first look at each, as soon as the program served; it works out what is dear meanwhile:");
        report.Routes("first", first);
        report.Line($"Every further look:");
        report.Routes("looks", figures);
        report.Against(new Limit("looks without the page", first.Errors + figures.Errors, 0));
        foreach (RouteRow row in figures.Rows())
        {
            report.Against(new Limit(row.Route + ", median, ms", row.MedianMs, looks.MostMs));
        }

        await program.StopAsync();
        return report.End(stamp);
    }

    private static async Task PostAsync(Caller caller, LoadKey gateway, RecordMaker maker)
    {
        Batch one = maker.FromGateway(1);
        Answer answer = await caller.SendAsync(new Call("POST /v1/records", HttpMethod.Post, "/v1/records", gateway.Secret) { Body = one.Body, MediaType = one.MediaType });
        if (answer.Status != 200)
        {
            throw new InvalidOperationException("A record was not taken in: " + answer.Said);
        }
    }

    private static string[] OfPosition(string position) =>
        [$"/part-life?position={position}", $"/part-life/lives?position={position}", $"/charts/part-life/{position}/survival.svg"];

    private static string Filled(string page, FleetUnit unit) => page.Replace("{unit}", Uri.EscapeDataString(unit.Code), StringComparison.Ordinal)
        .Replace("{site}", Uri.EscapeDataString(unit.Site), StringComparison.Ordinal)
        .Replace("{operator}", Uri.EscapeDataString(unit.Operator), StringComparison.Ordinal);
}
