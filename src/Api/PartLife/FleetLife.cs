using Washwear.Api.Registry;

namespace Washwear.Api.PartLife;

/// <summary>What a part's age is counted in.</summary>
public enum LifeClock
{
    /// <summary>Elapsed days since fitting.</summary>
    Days,

    /// <summary>Washes that ran since fitting.</summary>
    Washes,

    /// <summary>Operating hours of the unit since fitting, from its meter.</summary>
    OperatingHours,
}

/// <summary>Ages of one part on one clock.</summary>
/// <param name="Entry">Age at which it came under watch.</param>
/// <param name="LastSeenGood">Age when last seen good, for a part found failed; null otherwise.</param>
/// <param name="End">Age at its end, or at the last look at it.</param>
public readonly record struct LifeAges(double Entry, double? LastSeenGood, double End);

/// <summary>Ages of one part on each clock on which they can be told. Hundreds of thousands are held: no dictionary.</summary>
/// <param name="Days">In days; null: not told.</param>
/// <param name="Washes">In washes; null: not told.</param>
/// <param name="OperatingHours">In operating hours; null: not told.</param>
public readonly record struct AgesByClock(LifeAges? Days = null, LifeAges? Washes = null, LifeAges? OperatingHours = null)
{
    /// <summary>Whether they are told on none.</summary>
    public bool IsEmpty => Days is null && Washes is null && OperatingHours is null;

    /// <summary>The ages on a clock.</summary>
    /// <param name="clock">The clock.</param>
    /// <exception cref="KeyNotFoundException">They are not told on it.</exception>
    public LifeAges this[LifeClock clock] => On(clock) ?? throw new KeyNotFoundException($"The age is not told in {clock}.");

    /// <summary>The ages on a clock, where they are told.</summary>
    /// <param name="clock">The clock.</param>
    /// <param name="ages">The ages.</param>
    /// <returns>Whether they are told.</returns>
    public bool TryGetValue(LifeClock clock, out LifeAges ages)
    {
        LifeAges? known = On(clock);
        ages = known ?? default;
        return known is not null;
    }

    /// <summary>The same ages changed one by one.</summary>
    /// <param name="change">The change; null out: not told.</param>
    public AgesByClock Select(Func<LifeAges, LifeAges?> change) => new(
        Days is { } days ? change(days) : null,
        Washes is { } washes ? change(washes) : null,
        OperatingHours is { } hours ? change(hours) : null);

    private LifeAges? On(LifeClock clock) => clock switch
    {
        LifeClock.Days => Days,
        LifeClock.Washes => Washes,
        _ => OperatingHours,
    };
}

/// <summary>One part's life, with its ages on each clock.</summary>
/// <param name="Unit">The unit it is or was fitted in.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="Ordinal">1 for the first part known at the position.</param>
/// <param name="PartNumber">Part number, if known.</param>
/// <param name="Batch">Batch, if known.</param>
/// <param name="Supplier">Supplier, if known.</param>
/// <param name="FittedAt">When it was fitted; null if unknown.</param>
/// <param name="EndedAt">When it was taken out; null if it is still fitted.</param>
/// <param name="EndedHow">failed, found_failed, precaution, upgrade, unit_retired or other_mode; null if still fitted.</param>
/// <param name="FailureMode">How it failed, if known.</param>
/// <param name="Ages">Ages by clock.</param>
/// <param name="Doubt">Why the life cannot be used on any clock; null: it can.</param>
/// <param name="LookedPoor">Whether it was taken out working after a last look that found it worn or poor.</param>
public sealed record FleetLife(
    UnitEntry Unit,
    string Position,
    int Ordinal,
    string? PartNumber,
    string? Batch,
    string? Supplier,
    DateTimeOffset? FittedAt,
    DateTimeOffset? EndedAt,
    string? EndedHow,
    string? FailureMode,
    AgesByClock Ages,
    string? Doubt,
    bool LookedPoor = false)
{
    /// <summary>How a part ended that failed of another mode than the one asked for.</summary>
    public const string OtherMode = "other_mode";

    /// <summary>Doubt of a part found failed of another mode that nobody had seen working.</summary>
    public const string OtherModeNeverSeen = "it was found failed of another mode and had not been seen working since it came under watch";

    /// <summary>Whether the part failed, at a known age or between two looks.</summary>
    public bool Failed => EndedHow is "failed" or "found_failed";

    /// <summary>Whether the part is still fitted.</summary>
    public bool StillFitted => EndedHow is null;

    /// <summary>
    /// The life as one failure mode sees it. A part that failed of another mode, or of none named, is one that worked: up to its failure where
    /// that is known to the instant, up to the last look where it lies between two.
    /// </summary>
    /// <param name="mode">The mode; null: all modes, which changes nothing.</param>
    public FleetLife AsSeenBy(string? mode)
    {
        if (mode is null || !Failed || string.Equals(FailureMode, mode, StringComparison.OrdinalIgnoreCase))
        {
            return this;
        }

        FleetLife other = this with { EndedHow = OtherMode };
        if (EndedHow == "failed" || Doubt is not null)
        {
            return other;
        }

        AgesByClock ages = Ages.Select(one => one.LastSeenGood > one.Entry
            ? new LifeAges(one.Entry, null, Math.Min(one.LastSeenGood.Value, one.End))
            : null);
        return other with { Ages = ages, Doubt = ages.IsEmpty ? OtherModeNeverSeen : null };
    }
}
