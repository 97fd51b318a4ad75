namespace Washwear.Api.Mqtt;

/// <summary>How to reach the MQTT broker.</summary>
/// <param name="Host">Name or address.</param>
/// <param name="Port">Port.</param>
/// <param name="Tls">Whether the connection is encrypted.</param>
/// <param name="CaFile">File of the certificates that are trusted; null: those of the machine.</param>
/// <param name="User">User name; null: none.</param>
/// <param name="Password">Password; null: none.</param>
/// <param name="ClientId">Identifier under which the broker keeps messages.</param>
/// <param name="Version5">Whether MQTT 5 is spoken, else 3.1.1.</param>
/// <param name="SessionLasts">How long the broker keeps messages while nobody is connected.</param>
/// <param name="InFlight">Most messages that wait for their commit at once.</param>
/// <param name="MappingFile">File of the mapping; null: none was given.</param>
public sealed record MqttOptions(
    string Host,
    int Port,
    bool Tls,
    string? CaFile,
    string? User,
    string? Password,
    string ClientId,
    bool Version5,
    TimeSpan SessionLasts,
    int InFlight,
    string? MappingFile)
{
    /// <summary>Where the broker is, for people; nothing secret.</summary>
    public override string ToString() => FormattableString.Invariant($"{Host}:{Port}");
}
