using Washwear.Api.Registry;

namespace Washwear.Api.Demo;

/// <summary>One invented oven, as far as it is settled before its life begins.</summary>
/// <param name="HistoryKnown">Whether the ages of the parts that were in when records began are known.</param>
/// <param name="ClockMinutesPerDay">How fast its clock runs off.</param>
internal sealed record UnitPlan(
    int Index, string Code, SitePlan Site, ModelPlan Model, DateOnly Commissioned, DateOnly? Decommissioned,
    IReadOnlyList<(DateTimeOffset From, DateTimeOffset? To, string Reason)> OutOfService, bool HistoryKnown, double ClockMinutesPerDay,
    DayOfWeek DeepWashDay, StagedEnd Staged, double StagedDays)
{
    private const int MostDaysBeforeRecords = 1400;

    // Blocks of seven units at three sites: adding a unit moves none of the others.
    private static readonly int[] SiteInBlock = [0, 0, 1, 2, 2, 2, 2];

    internal static int SiteOf(int unit) => (unit / SiteInBlock.Length * 3) + SiteInBlock[unit % SiteInBlock.Length];

    internal static UnitPlan Draw(int seed, int index, SitePlan site, SimulationWindow window)
    {
        Random random = Chance.For(seed, Chance.Stream.Plan, index);
        var staged = Staging.Of(index, window.StageTheEnd);
        ModelPlan model = random.OneOf(Catalogue.Models, plan => plan.Weight);
        bool old = random.Happens(0.72);
        DateOnly commissioned = DrawCommissioned(random, window, old || staged.End != StagedEnd.None);
        bool leaves = random.Happens(0.05) && staged.End == StagedEnd.None;
        DateOnly? decommissioned = leaves ? DrawDecommissioned(random, commissioned, window) : null;
        bool historyKnown = random.Happens(0.4);
        return new UnitPlan(
            index, Names.Unit(index), site, model, commissioned, decommissioned,
            [.. DrawOutOfService(random, commissioned, decommissioned, window, staged)], historyKnown,
            random.Happens(0.08) ? random.Between(-0.25, 0.02) : 0,
            (DayOfWeek)random.Next(2, 6), staged.End, staged.Days);
    }

    internal UnitResource Resource(SimulationWindow window)
    {
        var periods = OutOfService.Select(period => new OutOfServiceResource(period.From, period.To, period.Reason)).ToList();
        return new UnitResource(
            Code, Site.Code, Model.Code, Names.Serial(Index), Commissioned, Decommissioned, ReportingHours: 72,
            periods.Count == 0 ? null : periods, RecordsFrom: Commissioned < window.FirstDate ? window.FirstDate : null);
    }

    internal bool IsOutOfService(DateTimeOffset at) =>
        OutOfService.Any(period => at >= period.From && (period.To is null || at < period.To));

    private static DateOnly DrawCommissioned(Random random, SimulationWindow window, bool beforeRecords)
    {
        int recordDays = (int)(window.AsOf - window.RecordsBegin).TotalDays;
        return window.FirstDate.AddDays(beforeRecords ? -random.Next(30, MostDaysBeforeRecords) : random.Next(5, recordDays - 60));
    }

    private static DateOnly? DrawDecommissioned(Random random, DateOnly commissioned, SimulationWindow window)
    {
        DateOnly first = commissioned > window.FirstDate ? commissioned : window.FirstDate;
        int days = DateOnly.FromDateTime(window.AsOf.UtcDateTime).DayNumber - first.DayNumber - 30;
        return days > 60 ? first.AddDays(random.Next(60, days)) : null;
    }

    private static IEnumerable<(DateTimeOffset, DateTimeOffset?, string)> DrawOutOfService(
        Random random, DateOnly commissioned, DateOnly? decommissioned, SimulationWindow window, (StagedEnd End, double Days) staged)
    {
        DateTimeOffset from = window.AsOf.AddDays(-random.Between(60, 800));
        DateTimeOffset to = from.AddDays(random.Between(7, 40));
        bool lives = commissioned < DateOnly.FromDateTime(from.UtcDateTime)
            && (decommissioned is null || decommissioned > DateOnly.FromDateTime(to.UtcDateTime));
        if (random.Happens(0.1) && lives)
        {
            yield return (Minute(from), Minute(to), "kitchen wing closed");
        }

        if (staged.End == StagedEnd.OutOfService)
        {
            yield return (Minute(window.AsOf.AddDays(-staged.Days)), null, "stored until the new kitchen opens");
        }
    }

    private static DateTimeOffset Minute(DateTimeOffset at) => at.AddTicks(-(at.Ticks % TimeSpan.TicksPerMinute));
}
