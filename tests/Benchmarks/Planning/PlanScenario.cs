using Washwear.Analytics.Planning;

namespace Washwear.Benchmarks.Planning;

/// <summary>A fleet of which every life is known, and what swaps cost. Costs are in any one currency.</summary>
/// <param name="Name">What it stands for.</param>
/// <param name="Units">Units.</param>
/// <param name="Lives">True life at each position, in days, or in washes at a mean of one a day.</param>
/// <param name="FailureRatio">What a failure costs against a planned swap on a visit of its own.</param>
/// <param name="WearPays">Whether the plan must save; else it must not cost more.</param>
/// <param name="OwnRates">Whether lives are in washes and each unit washes at a rate of its own, 0.5 to 1.5 a day.</param>
internal sealed record PlanScenario(
    string Name, int Units, IReadOnlyList<WeibullLife> Lives, double FailureRatio, bool WearPays, bool OwnRates = false)
{
    public const double Visit = 100;
    public const double Part = 100;
    public const double Minutes = 10;

    /// <summary>Days without a wash after a failure.</summary>
    public const double UnwashedDays = 2;

    private static readonly double[] ThreeScales = [400, 700, 1300];

    public static IReadOnlyList<PlanScenario> All { get; } =
    [
        new("strong wear-out", 400, Same(3.5), 5, WearPays: true),
        new("wear-out", 400, Same(2.5), 5, WearPays: true),
        new("wear-out in washes, units wash 0.5 to 1.5 times a day", 400, Same(2.5), 5, WearPays: true, OwnRates: true),
        new("few records, strong wear-out", 30, Same(3), 5, WearPays: true),
        new("pump and hose of one unit", 400, [new(3, 500), new(2.5, 900)], 5, WearPays: true),
        new("mild wear-out", 400, Same(1.5), 3, WearPays: false),
        new("no wear-out", 400, Same(1), 5, WearPays: false),
        new("few records, no wear-out", 30, Same(1), 5, WearPays: false),
        new("infant failures", 400, Same(0.8), 5, WearPays: false),
    ];

    /// <summary>Of a swap on a visit of its own.</summary>
    public ReplacementCosts Costs => new(Visit + Part, FailureRatio * (Visit + Part));

    /// <summary>Of a swap while somebody is there anyway.</summary>
    public OpportunityCosts OpportunityCosts => new(Part + Minutes, Costs.Failure);

    private static WeibullLife[] Same(double shape) => [.. ThreeScales.Select(scale => new WeibullLife(shape, scale))];
}

/// <summary>When the parts at a position are swapped before they fail; ages on the clock of the life.</summary>
/// <param name="Age">Age at which a part has a visit made for it; infinite: never.</param>
/// <param name="CompanionAge">Age past which it is swapped when the unit is visited anyway; infinite: never.</param>
internal readonly record struct SwapRule(double Age, double CompanionAge)
{
    public static readonly SwapRule Never = new(double.PositiveInfinity, double.PositiveInfinity);
}
