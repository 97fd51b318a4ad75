using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>Parts as rows of a list.</summary>
internal static class LifeRows
{
    /// <summary>Whether a part belongs into a list.</summary>
    /// <param name="life">The part.</param>
    /// <param name="kind">The list.</param>
    public static bool IsOf(FleetLife life, LifeKind kind) => kind switch
    {
        LifeKind.All => true,
        LifeKind.Failed => life.Failed && life.Doubt is null,
        LifeKind.StillFitted => life.StillFitted,
        LifeKind.RemovedWorking => life is { StillFitted: false, Failed: false, Doubt: null },
        LifeKind.LookedPoor => life.LookedPoor,
        LifeKind.LeftOut => life.Doubt is not null,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such list of parts."),
    };

    /// <summary>Sort key of a row: asset tag, position, order of fitting.</summary>
    /// <param name="row">The row.</param>
    public static string Key(PartLifeRow row) => $"{row.Unit.ToUpperInvariant()} {row.Position.ToUpperInvariant()} {row.Ordinal:D6}";

    /// <summary>The row of a part.</summary>
    /// <param name="life">The part.</param>
    public static PartLifeRow Row(FleetLife life)
    {
        double? Age(LifeClock clock) => life.Ages.TryGetValue(clock, out LifeAges ages) ? ages.End : null;
        return new PartLifeRow(
            life.Unit.Resource.Unit,
            life.Unit.Model.Resource.Model,
            life.Position,
            life.Ordinal,
            life.PartNumber,
            life.Batch,
            life.FittedAt,
            life.EndedAt,
            life.EndedHow,
            life.FailureMode,
            life.Ages.TryGetValue(LifeClock.Days, out LifeAges days) ? days.Entry : 0,
            Age(LifeClock.Days),
            Age(LifeClock.Washes),
            life.Doubt is { } doubt ? Remarks.Told(doubt) : null)
        {
            Supplier = life.Supplier,
            AgeOperatingHours = Age(LifeClock.OperatingHours),
            LookedPoor = life.LookedPoor,
        };
    }
}
