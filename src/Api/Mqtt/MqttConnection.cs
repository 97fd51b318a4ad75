using System.Buffers;
using System.Globalization;
using System.Threading.Channels;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Protocol;
using Washwear.Api.Messages;

namespace Washwear.Api.Mqtt;

/// <summary>A message that waits for its commit and its acknowledgement.</summary>
/// <param name="Message">The message.</param>
/// <param name="AcknowledgeAsync">Tells the broker that it is on disk here.</param>
internal sealed record Delivery(Message Message, Func<CancellationToken, Task> AcknowledgeAsync);

/// <summary>One connection to the broker, from its making to its loss; messages come in the broker's order.</summary>
internal sealed class MqttConnection : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);
    private static readonly MqttClientFactory Factory = new();

    private readonly IMqttClient _client = Factory.CreateMqttClient();
    private readonly Channel<Delivery> _deliveries;

    private MqttConnection(MqttOptions options, TimeProvider clock)
    {
        _deliveries = Channel.CreateBounded<Delivery>(new BoundedChannelOptions(options.InFlight) { SingleReader = true });
        _client.ApplicationMessageReceivedAsync += received => TakeAsync(received, clock.GetUtcNow());
        _client.DisconnectedAsync += lost =>
        {
            _deliveries.Writer.TryComplete(new MqttLostException(Reason(lost)));
            return Task.CompletedTask;
        };
    }

    /// <summary>The messages; their end is told by an exception.</summary>
    public ChannelReader<Delivery> Deliveries => _deliveries.Reader;

    /// <summary>Connects and listens to topics.</summary>
    /// <param name="options">How.</param>
    /// <param name="topics">The topic filters.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="cancellationToken">Gives it up.</param>
    /// <exception cref="MqttLostException">The broker said no.</exception>
    public static async Task<MqttConnection> OpenAsync(
        MqttOptions options, IEnumerable<string> topics, TimeProvider clock, CancellationToken cancellationToken)
    {
        var connection = new MqttConnection(options, clock);
        try
        {
            await connection.ConnectAsync(options, cancellationToken);
            await connection.SubscribeAsync(options, topics, cancellationToken);
            return connection;
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    /// <summary>Says farewell if it still can; the broker keeps the session and what was not acknowledged.</summary>
    public async ValueTask DisposeAsync()
    {
        // Whoever waits to hand a message over has to let go first: the farewell waits for it.
        _deliveries.Writer.TryComplete();
        try
        {
            if (_client.IsConnected)
            {
                using var patience = new CancellationTokenSource(Patience);
                await _client.DisconnectAsync(new MqttClientDisconnectOptions(), patience.Token);
            }
        }
        catch (Exception error) when (error is MQTTnet.Exceptions.MqttCommunicationException or OperationCanceledException or InvalidOperationException)
        {
            // Gone already.
        }
        finally
        {
            _client.Dispose();
        }
    }

    private static MqttClientOptions ClientOptions(MqttOptions options)
    {
        MqttClientOptionsBuilder builder = Factory.CreateClientOptionsBuilder()
            .WithTcpServer(options.Host, options.Port)
            .WithClientId(options.ClientId)
            .WithCleanSession(false)
            .WithTimeout(Patience)
            .WithProtocolVersion(options.Version5 ? MqttProtocolVersion.V500 : MqttProtocolVersion.V311);
        if (options.Version5)
        {
            builder.WithSessionExpiryInterval((uint)options.SessionLasts.TotalSeconds).WithReceiveMaximum((ushort)options.InFlight);
        }

        if (options.User is not null || options.Password is not null)
        {
            builder.WithCredentials(options.User ?? string.Empty, options.Password ?? string.Empty);
        }

        if (options.Tls)
        {
            builder.WithTlsOptions(tls => MqttTrust.Use(tls, options));
        }

        return builder.Build();
    }

    private async Task ConnectAsync(MqttOptions options, CancellationToken cancellationToken)
    {
        MqttClientConnectResult result = await _client.ConnectAsync(ClientOptions(options), cancellationToken);
        if (result.ResultCode != MqttClientConnectResultCode.Success)
        {
            throw new MqttLostException($"The broker refuses the connection: {result.ResultCode}.");
        }
    }

    private async Task SubscribeAsync(MqttOptions options, IEnumerable<string> topics, CancellationToken cancellationToken)
    {
        // Kept messages come with the first subscription only, where the version has words for that.
        MqttClientSubscribeOptionsBuilder asked = Factory.CreateSubscribeOptionsBuilder();
        foreach (string topic in topics)
        {
            asked.WithTopicFilter(new MqttTopicFilter
            {
                Topic = topic,
                QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
                RetainHandling = options.Version5 ? MqttRetainHandling.SendAtSubscribeIfNewSubscriptionOnly : MqttRetainHandling.SendAtSubscribe,
            });
        }

        MqttClientSubscribeResult result = await _client.SubscribeAsync(asked.Build(), cancellationToken);
        foreach (MqttClientSubscribeResultItem item in result.Items)
        {
            if (item.ResultCode is not (MqttClientSubscribeResultCode.GrantedQoS1 or MqttClientSubscribeResultCode.GrantedQoS2))
            {
                throw new MqttLostException(
                    $"The broker does not let this program listen to a topic with acknowledgements: {item.ResultCode.ToString()}.");
            }
        }
    }

    // The payload lies in a buffer that is used again once this returns.
    private async Task TakeAsync(MqttApplicationMessageReceivedEventArgs received, DateTimeOffset at)
    {
        received.AutoAcknowledge = false;
        MqttApplicationMessage message = received.ApplicationMessage;
        var delivery = new Delivery(new Message(message.Topic, message.Payload.ToArray(), message.Retain, at), received.AcknowledgeAsync);
        try
        {
            await _deliveries.Writer.WriteAsync(delivery);
        }
        catch (ChannelClosedException)
        {
            // Not acknowledged: the broker delivers it again.
        }
    }

    private static string Reason(MqttClientDisconnectedEventArgs lost) => lost.Reason switch
    {
        MqttClientDisconnectReason.SessionTakenOver => "Another program uses the same client identifier at the broker; give one of them another.",
        MqttClientDisconnectReason.NormalDisconnection => "The broker closed the connection.",
        var reason => string.Create(CultureInfo.InvariantCulture, $"The connection to the broker was lost: {reason}."),
    };
}

/// <summary>The connection is lost, or was refused; the message is for people and names no address.</summary>
/// <param name="message">What happened.</param>
/// <param name="inner">What told of it.</param>
internal sealed class MqttLostException(string message, Exception? inner = null) : Exception(message, inner);
