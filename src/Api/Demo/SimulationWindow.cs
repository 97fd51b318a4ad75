namespace Washwear.Api.Demo;

/// <summary>The time that records speak of.</summary>
/// <param name="RecordsBegin">First instant of which there are records.</param>
/// <param name="AsOf">The present: nothing later has been delivered.</param>
/// <param name="StageTheEnd">Whether the last days are staged.</param>
internal sealed record SimulationWindow(DateTimeOffset RecordsBegin, DateTimeOffset AsOf, bool StageTheEnd)
{
    internal static SimulationWindow Of(DateTimeOffset asOf, SimulationOptions options)
    {
        DateTimeOffset midnight = new(asOf.UtcDateTime.Date, TimeSpan.Zero);
        return new SimulationWindow(midnight.AddYears(-options.Years), asOf.ToUniversalTime(), options.StageTheEnd);
    }

    internal DateOnly FirstDate => DateOnly.FromDateTime(RecordsBegin.UtcDateTime);
}
