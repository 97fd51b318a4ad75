#pragma warning disable CA1826
using System.Diagnostics;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Xunit.Abstractions;
namespace Washwear.Api.Tests.Demo;
public class Scratch(ITestOutputHelper output)
{
    [Fact]
    public void Look()
    {
        var w = Stopwatch.StartNew();
        var fleet = FleetSimulator.Simulate(1, new DateTimeOffset(2026, 11, 25, 13, 0, 0, TimeSpan.Zero), new SimulationOptions());
        var list = fleet.Records().ToList();
        output.WriteLine($"{w.ElapsedMilliseconds} ms, {list.Count} records");
        foreach (var g in list.GroupBy(r => r.GetType().Name)) output.WriteLine($"{g.Key} {g.Count()}");
        foreach (var g in list.OfType<WashRecord>().GroupBy(r => r.Outcome)) output.WriteLine($"{g.Key} {g.Count()}");
        output.WriteLine($"left {list.OfType<WashRecord>().Count(r=>r.DetergentLeft==true)} manual {list.OfType<WashRecord>().Count(r=>r.AttestedBy!=null)}");
        w.Restart();
        var truth = fleet.Truth().ToList();
        output.WriteLine($"{w.ElapsedMilliseconds} ms truth");
        var lives = truth.SelectMany(t => t.Lives).ToList();
        foreach (var g in lives.GroupBy(l => l.Position)) output.WriteLine($"{g.Key}: {g.Count()} lives, failed {g.Count(l=>l.FailedAt!=null)}, F/FF/P/U {g.Count(l=>l.Reason==RemovalReason.Failed)}/{g.Count(l=>l.Reason==RemovalReason.FoundFailed)}/{g.Count(l=>l.Reason==RemovalReason.Precaution)}/{g.Count(l=>l.Reason==RemovalReason.Upgrade)} unknown {g.Count(l=>!l.StartReported)}");
        output.WriteLine($"lockouts {truth.Sum(t=>t.Lockouts.Count)} open {truth.Sum(t=>t.Lockouts.Count(l=>l.ClearedAt==null))}, visits {truth.Sum(t=>t.Visits.Count)} washes {truth.Sum(t=>t.WashesRun)} lost {truth.Sum(t=>t.WashesLost)}");
        foreach (var g in truth.SelectMany(t=>t.Lockouts).GroupBy(l=>l.Fault+" "+l.Position+" "+l.Mode)) output.WriteLine($"{g.Key} {g.Count()}");
        var days = truth.SelectMany(t=>t.Lockouts).Where(l=>l.ClearedAt!=null).Select(l=>(l.ClearedAt!.Value-l.RaisedAt).TotalDays).Order().ToList();
        output.WriteLine($"lockout days median {days[days.Count/2]:F1} p90 {days[days.Count*9/10]:F1} max {days[^1]:F1}");
        foreach (var t in truth.Where(t=>t.Lockouts.Any(l=>l.ClearedAt==null))) output.WriteLine($"{t.Unit} {t.Staged} {t.Lockouts.Last()} {t.Visits.LastOrDefault()}");
        foreach (var g in truth.SelectMany(t=>t.Visits).GroupBy(v=>v.End)) output.WriteLine($"{g.Key} {g.Count()}");
    }
}
