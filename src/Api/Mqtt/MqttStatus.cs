using System.Text.Json.Serialization;

namespace Washwear.Api.Mqtt;

/// <summary>Where the connection to the MQTT broker stands.</summary>
public enum MqttConnectionState
{
    /// <summary>A connection is being made.</summary>
    Connecting,

    /// <summary>Connected; messages are taken in.</summary>
    Connected,

    /// <summary>The connection was lost or could not be made; it is tried again by itself.</summary>
    Waiting,
}

/// <summary>How the intake of MQTT messages fares, since the program started.</summary>
/// <param name="State">Where the connection stands.</param>
/// <param name="Since">Since when.</param>
/// <param name="LastMessageAt">When the last message came.</param>
/// <param name="Messages">Messages that were dealt with; one that was delivered twice counts twice.</param>
/// <param name="Accepted">Records taken in from them.</param>
/// <param name="Duplicate">Records that had been taken in before.</param>
/// <param name="Refused">Rows that were refused; each is kept and can be listed.</param>
/// <param name="Ignored">Messages of which the mapping makes no record.</param>
/// <param name="Problem">What went wrong last, while it has not come right.</param>
public sealed record MqttStatus(
    MqttConnectionState State,
    DateTimeOffset Since,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] DateTimeOffset? LastMessageAt,
    long Messages,
    long Accepted,
    long Duplicate,
    long Refused,
    long Ignored,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Problem);
