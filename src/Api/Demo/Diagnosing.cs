namespace Washwear.Api.Demo;

/// <summary>What a technician takes for the cause of a fault.</summary>
internal static class Diagnosing
{
    /// <summary>Share of visits for a fault at which it does not show itself.</summary>
    internal const double NothingFoundShare = 0.03;

    /// <summary>
    /// Share in which something else is mended first, where the catalogue names something else, by team. One team is a little worse.
    /// </summary>
    internal static readonly IReadOnlyList<double> WrongCauseShares = [0.09, 0.05, 0.05];

    /// <summary>The cause that the visits for a fault will find; null: none.</summary>
    /// <remarks>It draws the same number of times whatever comes of it, so that one slip does not move what comes after it.</remarks>
    internal static FailureWay? Find(UnitState state, FailureWay way, DateTimeOffset at)
    {
        bool nothing = state.Looking.Happens(NothingFoundShare);
        bool wrong = state.Looking.Happens(WrongCauseShares[Team(state.Plan)]);
        double which = state.Looking.NextDouble();
        bool staged = Staging.LocksOut(state.Plan.Staged) && at >= state.StagedFrom;
        if (staged || state.Missed == way)
        {
            return way;
        }

        IReadOnlyList<FailureWay> others = nothing || !wrong ? [] : Others(state, way, at);
        return nothing ? null : others.Count == 0 ? way : others[(int)(which * others.Count)];
    }

    /// <summary>The team that looks after a site.</summary>
    internal static int Team(UnitPlan plan) => plan.Site.Index % WrongCauseShares.Count;

    /// <summary>Other causes that the catalogue names, the mending of which leaves the true one: sound parts, or a blockage.</summary>
    internal static IReadOnlyList<FailureWay> Others(UnitState state, FailureWay way, DateTimeOffset at) =>
    [
        .. Catalogue.Causes(state.Plan.Model, way.Fault!).Where(other => other.Position == way.Position
            ? other.Mode == FailureWays.Blocked && way.Mode != FailureWays.Blocked
            : state.Parts.At(other.Position).FailedBy(at) is null),
    ];
}
