namespace Washwear.Api.Demo;

/// <summary>How large an invented fleet to make and how long its records go back.</summary>
/// <param name="Units">Number of units, 1 to 10,000. Unit k is the same whatever the number.</param>
/// <param name="Years">Years of records before the instant handed in, 1 to 10.</param>
/// <param name="StageTheEnd">
/// Whether a few units are led into a chosen state in their last days (locked out and waiting, silent, closed, out of service), so that
/// every state is to be seen at the end. Staging never touches the life of a part.
/// </param>
public sealed record SimulationOptions(int Units = 140, int Years = 3, bool StageTheEnd = true)
{
    /// <summary>Most units that one fleet may have.</summary>
    public const int MostUnits = 10_000;

    /// <summary>Most years that records may go back.</summary>
    public const int MostYears = 10;

    internal void Check()
    {
        if (Units is < 1 or > MostUnits)
        {
            throw new ArgumentOutOfRangeException(nameof(Units), Units, $"A fleet has 1 to {MostUnits} units.");
        }

        if (Years is < 1 or > MostYears)
        {
            throw new ArgumentOutOfRangeException(nameof(Years), Years, $"Records go back 1 to {MostYears} years.");
        }
    }
}
