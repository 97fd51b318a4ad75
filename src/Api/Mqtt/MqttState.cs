using Washwear.Api.Messages;

namespace Washwear.Api.Mqtt;

/// <summary>Keeps the account of the intake. Safe for concurrent use.</summary>
/// <param name="settings">Whether there is an intake at all.</param>
/// <param name="clock">The clock.</param>
internal sealed class MqttState(Settings settings, TimeProvider clock)
{
    private readonly Lock _gate = new();
    private MqttStatus _status = new(MqttConnectionState.Connecting, clock.GetUtcNow(), null, 0, 0, 0, 0, 0, null);

    /// <summary>How it stands; null: no messages are taken in.</summary>
    public MqttStatus? Status
    {
        get
        {
            lock (_gate)
            {
                return settings.Mqtt is null ? null : _status;
            }
        }
    }

    /// <summary>Notes that a connection was made.</summary>
    public void Connected() => Change(status => status with { State = MqttConnectionState.Connected, Since = clock.GetUtcNow(), Problem = null });

    /// <summary>Notes that the connection was lost or could not be made.</summary>
    /// <param name="problem">Why, without addresses or names.</param>
    public void Waiting(string problem) => Change(status => status with
    {
        State = MqttConnectionState.Waiting,
        Since = status.State == MqttConnectionState.Waiting ? status.Since : clock.GetUtcNow(),
        Problem = problem,
    });

    /// <summary>Notes that a message came.</summary>
    /// <param name="at">When.</param>
    public void Came(DateTimeOffset at) => Change(status => status with { LastMessageAt = at });

    /// <summary>Notes what became of a message.</summary>
    /// <param name="outcome">What became of it.</param>
    public void Count(MessageOutcome outcome) => Change(status => status with
    {
        Messages = status.Messages + 1,
        Accepted = status.Accepted + outcome.Accepted,
        Duplicate = status.Duplicate + outcome.Duplicate,
        Refused = status.Refused + outcome.Refused.Count,
        Ignored = status.Ignored + (outcome.Accepted + outcome.Duplicate + outcome.Refused.Count == 0 ? 1 : 0),
    });

    private void Change(Func<MqttStatus, MqttStatus> change)
    {
        lock (_gate)
        {
            _status = change(_status);
        }
    }
}
