using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>A stretch [<paramref name="From"/>, <paramref name="To"/>) in which the unit was out of service.</summary>
/// <param name="From">First instant out of service.</param>
/// <param name="To">First instant back in service; null while it is out.</param>
public readonly record struct OutOfServicePeriod(Instant From, Instant? To);

/// <summary>What is known about a unit's service apart from its records.</summary>
/// <param name="ReportingTime">Silence begins this long after the unit was last heard; null = it is never called silent.</param>
/// <param name="CommissionedOn">First trading day in service; null = unknown, then the day of its first sign of life.</param>
/// <param name="DecommissionedOn">First trading day no longer in service; null = still in service.</param>
/// <param name="OutOfService">Stretches out of service, in any order; they may overlap.</param>
public sealed record UnitService(
    Duration? ReportingTime, LocalDate? CommissionedOn, LocalDate? DecommissionedOn, IReadOnlyList<OutOfServicePeriod> OutOfService)
{
    /// <summary>A unit in service for as long as there are records, never called silent.</summary>
    public static UnitService Always { get; } = new(null, null, null, []);
}

/// <summary>A reading of a unit's counter of operating hours.</summary>
/// <param name="At">When it was read.</param>
/// <param name="OperatingHours">Hours that the counter shows, 0 or more.</param>
public readonly record struct MeterReading(Instant At, double OperatingHours);

/// <summary>All records of one unit that cleaning is computed from, each list in any order.</summary>
/// <param name="Service">Reporting time, commissioning, stretches out of service.</param>
/// <param name="Washes">Washes, refusals and cleans by hand.</param>
/// <param name="Faults">Faults, whether or not they lock out washing (every one is a sign of life).</param>
/// <param name="HeardAt">Further signs of life: heartbeats and meter readings.</param>
/// <param name="Visits">Visits asked for, under way and over.</param>
/// <param name="Approvals">Approvals asked for and decided.</param>
public sealed record UnitHistory(
    UnitService Service,
    IReadOnlyList<Wash> Washes,
    IReadOnlyList<WashFault> Faults,
    IReadOnlyList<Instant> HeardAt,
    IReadOnlyList<Visit> Visits,
    IReadOnlyList<Approval> Approvals)
{
    /// <summary>Readings of the counter of operating hours, in any order; only a rule by operating hours looks at the figures.</summary>
    public IReadOnlyList<MeterReading> Meters { get; init; } = [];
}
