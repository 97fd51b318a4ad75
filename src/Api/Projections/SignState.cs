using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Projections;

/// <summary>The running state of a unit's charts as text: the bytes of <see cref="UnitSigns.ToBytes"/> as base64. It is read and written with each
/// wash; as JSON it took several times the time and the pages.</summary>
public static class SignState
{
    /// <summary>The state as text.</summary>
    /// <param name="signs">The state.</param>
    public static string Write(UnitSigns signs) => Convert.ToBase64String(signs.ToBytes());

    /// <summary>The state that a text holds.</summary>
    /// <param name="text">The text.</param>
    /// <exception cref="FormatException">It holds none.</exception>
    public static UnitSigns Read(string text) => UnitSigns.FromBytes(Convert.FromBase64String(text));
}
