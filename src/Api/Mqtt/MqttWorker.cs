using System.Data.Common;
using Washwear.Api.Messages;
using Washwear.Api.Storage;

namespace Washwear.Api.Mqtt;

/// <summary>Takes in the messages of the broker as long as the program serves: connect, commit, acknowledge; whatever goes wrong, wait and
/// connect again, upon which the broker delivers once more what was not acknowledged.</summary>
/// <param name="settings">Where the broker is.</param>
/// <param name="intake">Takes messages in.</param>
/// <param name="state">The account.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class MqttWorker(Settings settings, MessageIntake intake, MqttState state, TimeProvider clock, ILogger<MqttWorker> log) : BackgroundService
{
    private const int MessagesPerTransaction = 500;
    private static readonly TimeSpan AcknowledgePatience = TimeSpan.FromSeconds(10);
    private MessageReader? _reader;

    /// <summary>Reads the mapping and begins.</summary>
    /// <param name="cancellationToken">Stops the start.</param>
    /// <exception cref="SettingException">The mapping cannot be used; the message names everything that is wrong with it.</exception>
    public override async Task StartAsync(CancellationToken cancellationToken)
    {
        if (settings.Mqtt is { } options)
        {
            _reader = new MessageReader(await MappingLoader.LoadAsync(options.MappingFile, cancellationToken), settings.RowLimitBytes);
            if (options is { Tls: false, Password: not null })
            {
                LogOpenPassword();
            }
        }

        await base.StartAsync(cancellationToken);
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (settings.Mqtt is not { } options || _reader is not { } reader)
        {
            return;
        }

        int failures = 0;
        while (!stoppingToken.IsCancellationRequested)
        {
            bool anyCommitted = false;
            try
            {
                await using MqttConnection connection = await MqttConnection.OpenAsync(
                    options, reader.Subscriptions.Select(one => one.Pattern.Filter), clock, stoppingToken);
                state.Connected();
                LogConnected(options, reader.Subscriptions.Count);
                while (await connection.Deliveries.WaitToReadAsync(stoppingToken))
                {
                    await TakeInAsync(connection, reader);
                    anyCommitted = true;
                }
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
#pragma warning disable CA1031 // Whatever ends a connection, the next one is tried; a message whose making throws would be a bug, and is told.
            catch (Exception error)
#pragma warning restore CA1031
            {
                failures = anyCommitted ? 1 : failures + 1;
                await WaitAsync(options, error, failures, stoppingToken);
            }
        }
    }

    // What came while the last transaction was written goes into the next one together.
    private async Task TakeInAsync(MqttConnection connection, MessageReader reader)
    {
        var batch = new List<Delivery>();
        while (batch.Count < MessagesPerTransaction && connection.Deliveries.TryRead(out Delivery? delivery))
        {
            batch.Add(delivery);
        }

        state.Came(batch[^1].Message.ArrivedAt);
        IReadOnlyList<MessageOutcome> outcomes = await intake.TakeInAsync(reader, [.. batch.Select(one => one.Message)]);
        for (int index = 0; index < batch.Count; index++)
        {
            state.Count(outcomes[index]);
            Tell(batch[index].Message, outcomes[index]);
        }

        await AcknowledgeAsync(batch);
    }

    // A stop that is asked for meanwhile does not keep back what is owed to the broker.
    private static async Task AcknowledgeAsync(List<Delivery> batch)
    {
        using var patience = new CancellationTokenSource(AcknowledgePatience);
        try
        {
            foreach (Delivery delivery in batch)
            {
                await delivery.AcknowledgeAsync(patience.Token);
            }
        }
        catch (Exception error)
        {
            throw new MqttLostException("The connection to the broker was lost before everything was acknowledged.", error);
        }
    }

    private void Tell(Message message, MessageOutcome outcome)
    {
        foreach (Ingest.RowProblem problem in outcome.Refused)
        {
            LogRefused(Printable(message.Topic), problem.Field ?? "row", problem.Rule, problem.Detail);
        }
    }

    private async Task WaitAsync(MqttOptions options, Exception error, int failures, CancellationToken stoppingToken)
    {
        string problem = error switch
        {
            MqttLostException lost => lost.Message,
            DbException fault => "Messages could not be written. " + DatabaseFault.InWords(fault),
            _ => "The broker cannot be reached.",
        };
        state.Waiting(problem);
#pragma warning disable CA5394 // Nothing secret hangs on this chance.
        TimeSpan wait = ReconnectDelay.After(failures, Random.Shared.NextDouble());
#pragma warning restore CA5394
        LogWaiting(error is MqttLostException or DbException ? null : error, options, problem, wait.TotalSeconds);
        try
        {
            await Task.Delay(wait, clock, stoppingToken);
        }
        catch (OperationCanceledException)
        {
            // The program stops.
        }
    }

    private static string Printable(string topic) => new([.. topic.Select(character => char.IsControl(character) ? '?' : character)]);

    [LoggerMessage(Level = LogLevel.Information, Message = "Connected to the MQTT broker at {Broker}, listening to {Topics} topic filters.")]
    private partial void LogConnected(MqttOptions broker, int topics);

    [LoggerMessage(Level = LogLevel.Warning, Message = "MQTT message on {Topic} refused, {Field}: {Detail} ({Rule}) The row is kept.")]
    private partial void LogRefused(string topic, string field, string rule, string detail);

    [LoggerMessage(Level = LogLevel.Warning, Message = "MQTT broker at {Broker}: {Problem} Next attempt in {Seconds:0.0} s; what was not acknowledged comes again.")]
    private partial void LogWaiting(Exception? error, MqttOptions broker, string problem, double seconds);

    [LoggerMessage(Level = LogLevel.Warning, Message = "The MQTT password goes over the network unencrypted: set mqtt_tls to yes unless the broker is on this machine.")]
    private partial void LogOpenPassword();
}
