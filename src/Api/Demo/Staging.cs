namespace Washwear.Api.Demo;

/// <summary>The state that a unit is led into in its last days.</summary>
public enum StagedEnd
{
    /// <summary>None: whatever comes.</summary>
    None,

    /// <summary>Locked out, nobody asked for a visit.</summary>
    NoVisitAsked,

    /// <summary>Locked out, the technician has not come.</summary>
    WaitingTechnician,

    /// <summary>Locked out, the repair waits for an approval.</summary>
    WaitingApproval,

    /// <summary>Locked out, the repair waits for a part.</summary>
    WaitingPart,

    /// <summary>Nobody starts a wash.</summary>
    NobodyStarted,

    /// <summary>Every wash is stopped by a person.</summary>
    StoppedByPerson,

    /// <summary>Every wash is stopped by a fault that does not lock out.</summary>
    StoppedByFault,

    /// <summary>Every wash is of a programme below the rule's grade.</summary>
    DidNotCount,

    /// <summary>Out of service.</summary>
    OutOfService,
}

/// <summary>Which units and sites are staged: the same few in every hundred and forty, mostly at sites that trade on all days.</summary>
internal static class Staging
{
    private const int UnitsPerRound = 140;
    private const int SitesPerRound = 60;

    private static readonly Dictionary<int, (StagedEnd End, double Days)> Units = new()
    {
        [9] = (StagedEnd.NoVisitAsked, 2.4),
        [64] = (StagedEnd.NoVisitAsked, 5.3),
        [23] = (StagedEnd.WaitingTechnician, 3.2),
        [52] = (StagedEnd.WaitingApproval, 9.1),
        [103] = (StagedEnd.WaitingApproval, 4.2),
        [66] = (StagedEnd.WaitingPart, 12.3),
        [118] = (StagedEnd.WaitingPart, 6.4),
        [33] = (StagedEnd.NobodyStarted, 3.5),
        [73] = (StagedEnd.NobodyStarted, 4.5),
        [31] = (StagedEnd.StoppedByPerson, 2.5),
        [102] = (StagedEnd.StoppedByPerson, 3.5),
        [87] = (StagedEnd.StoppedByFault, 2.5),
        [106] = (StagedEnd.StoppedByFault, 3.5),
        [115] = (StagedEnd.DidNotCount, 2.5),
        [130] = (StagedEnd.DidNotCount, 3.5),
        [88] = (StagedEnd.OutOfService, 11.5),
        [15] = (StagedEnd.OutOfService, 4.5),
    };

    private static readonly int[] SilentSites = [20, 26];
    private static readonly int[] ClosedSites = [24, 51];

    /// <summary>How a unit ends and how many days before the end that begins.</summary>
    internal static (StagedEnd End, double Days) Of(int unit, bool stage) =>
        stage && Units.TryGetValue(unit % UnitsPerRound, out var staged) ? staged : (StagedEnd.None, 0);

    internal static bool IsSilent(int site, bool stage) => stage && SilentSites.Contains(site % SitesPerRound);

    internal static bool IsClosed(int site, bool stage) => stage && ClosedSites.Contains(site % SitesPerRound);

    internal static bool LocksOut(StagedEnd end) =>
        end is StagedEnd.NoVisitAsked or StagedEnd.WaitingTechnician or StagedEnd.WaitingApproval or StagedEnd.WaitingPart;
}
