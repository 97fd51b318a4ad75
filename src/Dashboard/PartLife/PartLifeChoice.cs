namespace Washwear.Dashboard.PartLife;

/// <summary>What a reader of part life chose; the address of the page keeps all of it.</summary>
/// <param name="Position">Code of the position.</param>
public sealed record PartLifeChoice(string Position)
{
    /// <summary>Level of bounds unless another is asked for.</summary>
    public const double UsualLevel = 0.95;

    /// <summary>Only units of this model; null: all.</summary>
    public string? Model { get; init; }

    /// <summary>Only this mode counts as failure, others are censored; null: all modes.</summary>
    public string? FailureMode { get; init; }

    /// <summary>days, washes or operating_hours; null: the one that explains the lives best where the records decide it, else days.</summary>
    public string? Clock { get; init; }

    /// <summary>Confidence level of bounds, above 0.5 and below 1.</summary>
    public double Level { get; init; } = UsualLevel;

    /// <summary>What lives are compared by: part_number, batch, supplier, model, operator, region or water_hardness; null: nothing.</summary>
    public string? By { get; init; }

    /// <summary>Only parts of this group of <see cref="By"/>; null: all groups.</summary>
    public string? Group { get; init; }

    /// <summary>Shape that the reader entered, from 0.02 to 100; null: none.</summary>
    public double? Shape { get; init; }

    /// <summary>Ages at which survival is wanted, on the clock; empty: none.</summary>
    public IReadOnlyList<double> At { get; init; } = [];

    /// <summary>Whether bounds from the observed information are wanted beside those of the profile likelihood.</summary>
    public bool BothBounds { get; init; }
}

/// <summary>Which parts a list of lives shows.</summary>
public enum LifeKind
{
    /// <summary>Every part, used or left out.</summary>
    All,

    /// <summary>Those that failed.</summary>
    Failed,

    /// <summary>Those that are still fitted, whether their age is known or not.</summary>
    StillFitted,

    /// <summary>Those taken out while working.</summary>
    RemovedWorking,

    /// <summary>Those taken out because they looked worn or poor.</summary>
    LookedPoor,

    /// <summary>Those that no figure uses, each with its reason.</summary>
    LeftOut,
}
