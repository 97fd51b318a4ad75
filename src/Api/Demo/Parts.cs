using System.Globalization;
using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>The parts of one unit: fits, wears and removes them, and keeps the truth of every life.</summary>
internal sealed class Parts(UnitPlan plan, Random random, Reports reports, SimulationWindow window)
{
    // A weak part shows in its last two to four weeks, at about one and a half washes a day.
    private const double FewestWeakWashes = 20;
    private const double MostWeakWashes = 42;
    private const double SecondHandShare = 0.04;

    // The batch of fill valves that fails early was on the shelves in this share of the window.
    private const double EarlyBatchFrom = 0.35;
    private const double EarlyBatchTo = 0.5;
    private const double EarlyBatchShare = 0.7;
    internal const string EarlyBatchName = "FV-207";

    // From then on one operator has the better delivery hose fitted.
    private const double UpgradeFrom = 0.4;
    private const int UpgradingOperator = 0;

    private readonly Dictionary<string, FittedPart> _fitted = [];
    private readonly List<PartLifeTruth> _lives = [];

    internal IEnumerable<FittedPart> Fitted => plan.Model.Positions.Select(position => _fitted[position]);

    internal IReadOnlyList<PartLifeTruth> Lives => _lives;

    internal double PumpWeakness => _fitted[Positions.WashPump].Weakness();

    internal bool SprayArmFailed(DateTimeOffset at) =>
        _fitted.TryGetValue(Positions.SprayArm, out FittedPart? arm) && arm.FailedBy(at) is not null;

    internal FittedPart At(string position) => _fitted[position];

    internal bool UpgradesHoses(DateTimeOffset at) => plan.Site.Operator == UpgradingOperator && ShareOfWindow(at) >= UpgradeFrom;

    /// <summary>The first failure that raises a fault, if there is one.</summary>
    internal FailureWay? AlarmedFailure(DateTimeOffset at) =>
        Fitted.FirstOrDefault(part => part.Way.Fault is not null && part.FailedBy(at) is not null)?.Way;

    internal void RunOneWash(DateTimeOffset at)
    {
        foreach (FittedPart part in _fitted.Values)
        {
            part.RunOneWash(at);
        }
    }

    /// <summary>The parts that the unit came with.</summary>
    internal void FitAll(DateTimeOffset at)
    {
        foreach (string position in plan.Model.Positions)
        {
            FittedPart part = Fit(position, at, secondHand: false);
            part.StartReported = reports.PartChange(at, position, null, part.Part);
        }
    }

    /// <summary>Records begin: the age of the parts that are in is written down where it is known.</summary>
    internal void RecordsBegin(DateTimeOffset at)
    {
        if (plan.HistoryKnown)
        {
            foreach (FittedPart failed in Fitted.Where(part => part.FailedBy(at) is not null).ToList())
            {
                Fit(failed.Position, at.AddMinutes(-1), secondHand: false);
            }
        }

        foreach (FittedPart part in Fitted)
        {
            part.RecordsBegin(at);
            part.StartReported = plan.HistoryKnown && reports.PartChange(
                at, part.Position, null, part.Part with { AgeDays = Math.Round(part.EntryDays, 2), AgeWashes = part.EntryWashes });
        }
    }

    /// <summary>Takes a part out, fits a new one, and reports both.</summary>
    /// <param name="position">Its position.</param>
    /// <param name="at">When.</param>
    /// <param name="reason">Why, as it is reported.</param>
    /// <param name="believed">How the technician believes that it failed; null: as it truly did.</param>
    internal void Swap(string position, DateTimeOffset at, RemovalReason reason, FailureWay? believed = null)
    {
        FittedPart old = _fitted[position];
        bool failed = reason is RemovalReason.Failed or RemovalReason.FoundFailed;
        bool secondHand = reason == RemovalReason.Failed && Positions.PartCost(position) > 200 && random.Happens(SecondHandShare);
        RemovedPart removed = new(
            reason, failed ? (believed ?? old.Way).Mode : null, failed ? (believed ?? old.Way).Mechanism : null,
            reason == RemovalReason.FoundFailed && old.LastSeenGoodAt >= window.RecordsBegin ? old.LastSeenGoodAt : null);
        FittedPart fresh = Fit(position, at, secondHand);
        bool reported = reports.PartChange(at, position, removed, fresh.Part);
        fresh.StartReported = reported;
        Finish(old, at, at, removed, reported);
    }

    /// <summary>Ends the lives that are still running, at the end or when the unit leaves.</summary>
    internal void FinishAll(DateTimeOffset at)
    {
        foreach (FittedPart part in Fitted)
        {
            Finish(part, at, null, null, false);
        }
    }

    private FittedPart Fit(string position, DateTimeOffset at, bool secondHand)
    {
        double? ageWashes = secondHand ? Math.Round(random.Between(100, 500)) : null;
        double? ageDays = secondHand ? Math.Round(random.Between(120, 500)) : null;
        string kind = KindOf(position, at);
        PartWear wear = PartWear.Of(position, kind, plan.Site.HardnessMgPerL);
        double reached = (wear.Clock == WearClock.Washes ? ageWashes : ageDays) ?? 0;
        int model = plan.Model.Index;
        NewPart part = new(
            kind == PartWear.Upgraded ? Positions.UpgradedPartNumber(position, model) : Positions.PartNumber(position, model),
            kind == PartWear.EarlyBatch ? EarlyBatchName : BatchAt(at), random.OneOf(Names.Suppliers), ageDays, ageWashes);
        double life = random.Life(wear.Shape, wear.Scale, reached);
        FailureWay way = random.OneOf(FailureWays.PartsAt(position), way => way.Share);
        FittedPart fitted = new(position, part, wear, at, life, way, random.Between(FewestWeakWashes, MostWeakWashes));
        _fitted[position] = fitted;
        return fitted;
    }

    private string KindOf(string position, DateTimeOffset at)
    {
        double share = ShareOfWindow(at);
        bool early = position == Positions.FillValve && share is >= EarlyBatchFrom and < EarlyBatchTo && random.Happens(EarlyBatchShare);
        bool upgraded = position == Positions.DeliveryHose && UpgradesHoses(at);
        return early ? PartWear.EarlyBatch : upgraded ? PartWear.Upgraded : PartWear.Usual;
    }

    private double ShareOfWindow(DateTimeOffset at) => (at - window.RecordsBegin) / (window.AsOf - window.RecordsBegin);

    private static string BatchAt(DateTimeOffset at) =>
        string.Create(CultureInfo.InvariantCulture, $"{at.Year % 100:00}-{((at.Month - 1) / 3) + 1}");

    private void Finish(FittedPart part, DateTimeOffset at, DateTimeOffset? removedAt, RemovedPart? removed, bool reported)
    {
        if (at < window.RecordsBegin)
        {
            return;
        }

        DateTimeOffset? failedAt = part.FailedBy(at);
        double exitDays = part.AgeDays(failedAt ?? at);
        _lives.Add(new PartLifeTruth(
            plan.Code, part.Position, part.Part.PartNumber!, part.Wear, part.FittedAt, part.StartReported, part.EntryDays, part.EntryWashes,
            failedAt, exitDays, part.LifeWashes, removedAt, removed?.Reason, removed?.FailureMode, removed?.LastSeenGoodAt, reported, part.WeakAt));
    }
}
