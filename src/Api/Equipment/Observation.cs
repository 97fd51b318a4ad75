using System.Security.Cryptography;
using System.Text;

namespace Washwear.Api.Equipment;

/// <summary>What was seen of one thing at one instant: a unit's chamber is cleaning or not, a condition is active or not.</summary>
/// <param name="Channel">The thing: what stands before the first slash says which kind.</param>
/// <param name="At">When.</param>
/// <param name="Active">Whether it cleans, or is active.</param>
/// <param name="Code">Fault code of a condition; null: it is no condition.</param>
internal sealed record Observation(string Channel, DateTimeOffset At, bool Active, string? Code)
{
    /// <summary>What channels of modes begin with.</summary>
    public const string Cleaning = "cleaning";

    /// <summary>What channels of conditions begin with.</summary>
    public const string Alarm = "alarm";

    private const int LongestName = 60;

    /// <summary>Name of a channel, short enough for a key.</summary>
    /// <param name="kind">Its kind.</param>
    /// <param name="name">What tells it from others of its kind; null: it is the only one.</param>
    public static string ChannelOf(string kind, string? name) =>
        name is null ? kind
        : name.Length <= LongestName && !name.Any(char.IsControl) ? $"{kind}/{name}"
        : $"{kind}/{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(name)).AsSpan(0, 12))}";
}
