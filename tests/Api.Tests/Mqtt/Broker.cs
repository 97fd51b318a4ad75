using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Packets;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Washwear.Api.Tests.Mqtt;

/// <summary>A real MQTT broker on loopback in the process of the test, with a client that publishes.</summary>
internal sealed class Broker : IAsyncDisposable
{
    private static readonly MqttServerFactory Servers = new();
    private static readonly MqttClientFactory Clients = new();
    private readonly X509Certificate2? _certificate;
    private MqttServer _server = null!;
    private IMqttClient? _publisher;

    private Broker(X509Certificate2? certificate) => _certificate = certificate;

    /// <summary>A folder for files of this test, deleted afterwards.</summary>
    public string Folder { get; } = Directory.CreateTempSubdirectory("washwear-mqtt-test-").FullName;

    /// <summary>Port of the plain endpoint, or of the encrypted one.</summary>
    public int Port { get; } = FreePort();

    /// <summary>Whether acknowledgements get lost on the way.</summary>
    public bool LosesAcknowledgements { get; set; }

    /// <summary>Who may connect; null: everybody.</summary>
    public (string User, string Password)? OnlyFor { get; set; }

    /// <summary>What a client asked for when it connected last.</summary>
    public ValidatingConnectionEventArgs? LastConnect { get; private set; }

    /// <summary>Messages that were acknowledged by subscribers.</summary>
    public int Acknowledged => _acknowledged;

    private int _acknowledged;

    /// <summary>Starts a broker.</summary>
    /// <param name="certificate">Its certificate, for an encrypted endpoint; null: a plain one.</param>
    public static async Task<Broker> StartAsync(X509Certificate2? certificate = null)
    {
        var broker = new Broker(certificate);
        await broker.StartAgainAsync();
        return broker;
    }

    /// <summary>Starts again on the same port, with nothing remembered.</summary>
    public async Task StartAgainAsync()
    {
        MqttServerOptionsBuilder options = Servers.CreateServerOptionsBuilder().WithPersistentSessions();
        options = _certificate is null
            ? options.WithDefaultEndpoint().WithDefaultEndpointBoundIPAddress(IPAddress.Loopback).WithDefaultEndpointBoundIPV6Address(IPAddress.None).WithDefaultEndpointPort(Port)
            : options.WithoutDefaultEndpoint().WithEncryptedEndpoint().WithEncryptedEndpointBoundIPAddress(IPAddress.Loopback)
                .WithEncryptedEndpointBoundIPV6Address(IPAddress.None).WithEncryptedEndpointPort(Port).WithEncryptionCertificate(_certificate);
        _server = Servers.CreateMqttServer(options.Build());
        _server.ValidatingConnectionAsync += Validate;
        _server.InterceptingInboundPacketAsync += packet =>
        {
            packet.ProcessPacket = !(LosesAcknowledgements && packet.Packet is MqttPubAckPacket);
            return Task.CompletedTask;
        };
        _server.ClientAcknowledgedPublishPacketAsync += _ =>
        {
            Interlocked.Increment(ref _acknowledged);
            return Task.CompletedTask;
        };
        await _server.StartAsync();
    }

    /// <summary>Stops; whatever it held is gone.</summary>
    public async Task StopAsync()
    {
        await _server.StopAsync(new MqttServerStopOptions());
        _server.Dispose();
        _publisher?.Dispose();
        _publisher = null;
    }

    /// <summary>Cuts a client off without a word.</summary>
    public Task CutOffAsync(string clientId) => _server.DisconnectClientAsync(clientId, new MqttServerClientDisconnectOptions());

    /// <summary>Whether a client is connected and listens.</summary>
    public async Task<bool> HasAsync(string clientId) => (await _server.GetClientsAsync()).Any(client => client.Id == clientId);

    /// <summary>Publishes a message and waits until the broker has it.</summary>
    public async Task PublishAsync(string topic, string payload, bool retain = false)
    {
        if (_publisher is not { IsConnected: true })
        {
            _publisher?.Dispose();
            _publisher = Clients.CreateMqttClient();
            await _publisher.ConnectAsync(Clients.CreateClientOptionsBuilder().WithTcpServer("127.0.0.1", Port).WithClientId("gateway")
                .WithCredentials(OnlyFor?.User ?? "gateway", OnlyFor?.Password ?? "").Build());
        }

        await _publisher.PublishAsync(new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload)
            .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).WithRetainFlag(retain).Build());
    }

    public async ValueTask DisposeAsync()
    {
        _publisher?.Dispose();
        if (_server.IsStarted)
        {
            await _server.StopAsync(new MqttServerStopOptions());
        }

        _server.Dispose();
        _certificate?.Dispose();
        Directory.Delete(Folder, recursive: true);
    }

    private Task Validate(ValidatingConnectionEventArgs asked)
    {
        LastConnect = asked.ClientId == "gateway" ? LastConnect : asked;
        asked.ReasonCode = OnlyFor is { } only && (asked.UserName, asked.Password) != (only.User, only.Password)
            ? MqttConnectReasonCode.BadUserNameOrPassword
            : MqttConnectReasonCode.Success;
        return Task.CompletedTask;
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
