using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Tests.Approvals;

namespace Washwear.Dashboard.Tests.Repairs;

/// <summary>Repairs of the invented fleet, and hostile ones.</summary>
public static class RepairSamples
{
    public static RepairRow NotProven { get; } = Told(new RepairRow(
        "OV-1001", "S1", "Millbrook House", Samples.Zone, "V/1", Samples.AsOf.AddDays(-2), ["E21"], RepairState.NotProven, RepairContradiction.None,
        ["full-wash", "no-leak"], 1, 3, null, string.Empty, []));

    public static RepairRow InDoubt { get; } = Told(NotProven with
    {
        State = RepairState.Contradicted,
        Contradiction = RepairContradiction.FirstWashRefused,
        Doubts = ["The visit's proofs passed, but ..."],
    });

    public static UnprovenRepairs Unproven { get; } = new(12, 90, [InDoubt, NotProven]);

    public static UnprovenRepairs HostileUnproven { get; } = new(-1, -1, [Bad]);

    public static RepairRow Bad => new(
        Hostile.Name, Hostile.Name, Hostile.LongName, "No/Such_Zone", Hostile.Name, DateTimeOffset.MaxValue, [Hostile.Name], RepairState.NotProven,
        RepairContradiction.None, [Hostile.Name], -1, -1, DateTimeOffset.MinValue, Hostile.Name, [Hostile.Name]);

    public static RepairsPageReport Page { get; } = new(
        Quality(Row("all", null, "All", 50, 80), [Row("code", "E21", "E21: No water circulates", 30, 50)], [new TeamShare("ann", 1, 15, 25, Share, true), new TeamShare(null, 3, 9, 20, null, false)]),
        new EpisodesReport(Samples.Basis("faults", 1), [new EpisodeRow(
            "OV-1001", "S1", "Millbrook House", Samples.Zone, "E21", null, Samples.AsOf.AddDays(-9), Samples.AsOf.AddDays(-7), ["V/1", "V 2"], EpisodeResult.CameBack,
            Samples.AsOf.AddDays(-1))], "next"),
        new RepairChoice(Code: "E21"));

    public static RepairsPageReport Empty { get; } = new(
        Quality(Row("all", null, "All", 0, 0), [], []), null, new RepairChoice());

    public static RepairsPageReport HostilePage { get; } = new(
        Quality(
            new QualityRow(Hostile.Name, null, Hostile.Name, BadShare, BadShare, BadShare),
            [new QualityRow(Hostile.Name, Hostile.Name, Hostile.LongName, BadShare, BadShare, BadShare)], [new TeamShare(Hostile.Name, -1, -1, -1, BadShare.Share, false)]) with
        { Sentence = Hostile.Name },
        new EpisodesReport(Hostile.EmptyBasis, [new EpisodeRow(
            Hostile.Name, Hostile.Name, Hostile.LongName, Hostile.Name, Hostile.Name, Hostile.Name, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, [Hostile.Name],
            EpisodeResult.NoVisit, DateTimeOffset.MinValue)], Hostile.Name),
        new RepairChoice(Hostile.Name, Hostile.Name, Hostile.Name, -3, -3));

    private static Estimate Share => new(0.6, 0.45, 0.72, 0.95, ShrunkenShares.Method);

    private static CountedShare BadShare => new(-1, -1, new Estimate(double.NaN, double.NaN, double.PositiveInfinity, 0.95, Hostile.Name));

    public static QualityRow Row(string by, string? code, string name, int count, int cases) =>
        new(by, code, name, CountedShare.Of(count, cases), CountedShare.Of(count / 10, cases), CountedShare.Of(count, cases));

    private static RepairQualityReport Quality(QualityRow total, QualityRow[] groups, TeamShare[] teams) => new(
        Hostile.EmptyBasis, RepairSentences.Finding(total, 365, 30), 30, total, groups, [.. groups, total], teams, Hostile.Name,
        new Dictionary<EpisodeResult, int> { [EpisodeResult.TooRecent] = 3 }, ApprovalSamples.Row("all", 1, 5));

    private static RepairRow Told(RepairRow row) => row with { Sentence = RepairSentences.State(row) };
}
