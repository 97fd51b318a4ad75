using System.Diagnostics.Metrics;
using Washwear.Api.Ingest;
using Washwear.Api.Mqtt;
using Washwear.Api.Security.Scoped;

namespace Washwear.Api.Operation;

/// <summary>What is measured as it stands: queue, database, alerts, messages, health. Safe for concurrent use.</summary>
internal sealed class ServiceGauges
{
    private readonly Lookout _lookout;
    private readonly Settings _settings;
    private readonly TimeProvider _clock;

    /// <summary>Makes the instruments.</summary>
    /// <param name="meters">Where they are made.</param>
    /// <param name="lookout">What the latest look found.</param>
    /// <param name="ingest">The one way in.</param>
    /// <param name="mqtt">How the intake of messages fares.</param>
    /// <param name="scopes">Parts of the fleet whose figures are kept.</param>
    /// <param name="settings">The settings.</param>
    /// <param name="clock">The clock.</param>
    public ServiceGauges(
        IMeterFactory meters, Lookout lookout, IngestService ingest, MqttState mqtt, ScopedServices scopes, Settings settings, TimeProvider clock)
    {
        _lookout = lookout;
        _settings = settings;
        _clock = clock;
        Meter meter = meters.Create(Telemetry.Name);
        MeasureIngest(meter, ingest);
        MeasureDatabase(meter);
        MeasureNews(meter);
        meter.CreateObservableGauge("washwear.scopes.kept", () => scopes.Count, "{scope}", "Parts of the fleet whose figures are kept in memory.");
        meter.CreateObservableGauge("washwear.upkeep.last_success.age", Tasks, "s", "How long ago what the service does by itself succeeded last.");
        meter.CreateObservableGauge("washwear.health", Health, null, "What was looked at: 0 well, 1 worth a look, 2 so that the service cannot work.");
        if (settings.Mqtt is not null)
        {
            meter.CreateObservableGauge(
                "washwear.mqtt.connected", () => mqtt.Status?.State == MqttConnectionState.Connected ? 1 : 0, null, "1: connected with the MQTT broker.");
            meter.CreateObservableCounter(
                "washwear.mqtt.messages", () => mqtt.Status?.Messages ?? 0, "{message}", "MQTT messages that were dealt with.");
        }
    }

    private static void MeasureIngest(Meter meter, IngestService ingest)
    {
        meter.CreateObservableGauge("washwear.ingest.queue.requests", () => ingest.Load.Requests, "{request}", "Requests with records that are being taken in.");
        meter.CreateObservableGauge("washwear.ingest.queue.size", () => ingest.Load.HeldBytes, "By", "Memory of rows that were read and not yet written.");
        meter.CreateObservableGauge("washwear.ingest.queue.rows", () => ingest.Load.WaitingRows, "{row}", "Rows that wait for the next transaction.");
        meter.CreateObservableCounter(
            "washwear.ingest.refused_requests", () => ingest.Load.RefusedRequests, "{request}", "Requests with records refused because too much waited.");
        meter.CreateObservableCounter(
            "washwear.ingest.portions", () => ingest.Load.Portions, "{portion}", "Portions of requests written: a small request is one portion.");
    }

    private void MeasureDatabase(Meter meter)
    {
        meter.CreateObservableGauge("washwear.database.size", Sizes, "By", "Size of the database file and of its log of commits.");
        meter.CreateObservableGauge("washwear.disk.free", () => One(_lookout.Latest?.FreeBytes), "By", "Free disk beside the database file.");
        meter.CreateObservableGauge(
            "washwear.ingest.newest_record.age", () => Age(_lookout.Latest?.Figures?.NewestAt), "s", "How long ago the record that was taken in last happened.");
        meter.CreateObservableGauge(
            "washwear.ingest.newest_receipt.age", () => Age(_lookout.Latest?.Figures?.NewestReceipt), "s", "How long ago a record was taken in last.");
        meter.CreateObservableGauge(
            "washwear.projections.stale", () => One(_lookout.Latest?.Figures?.StaleUnits), "{unit}", "Units whose standing was derived with other rules.");
    }

    private void MeasureNews(Meter meter)
    {
        meter.CreateObservableGauge("washwear.alerts.alive", Alerts, "{alert}", "Alerts that are not closed.");
        meter.CreateObservableGauge(
            "washwear.webhooks.waiting", () => One(_lookout.Latest?.Figures?.MessagesWaiting), "{message}", "Webhook messages that wait for their delivery.");
        meter.CreateObservableGauge(
            "washwear.webhooks.oldest.age", () => Age(_lookout.Latest?.Figures?.MessagesOldest), "s", "How long the oldest of them has waited.");
    }

    private IEnumerable<Measurement<int>> Health() => _lookout.Latest is { } look
        ? HealthRules.Judge(look, _settings).Select(check => new Measurement<int>((int)check.Standing, Tag("check", check.Check)))
        : [];

    private IEnumerable<Measurement<double>> Tasks() => (_lookout.Latest?.Figures?.Tasks ?? [])
        .Where(task => task.SucceededAt is not null)
        .Select(task => new Measurement<double>((_clock.GetUtcNow() - task.SucceededAt!.Value).TotalSeconds, Tag("task", task.Task)));

    private IEnumerable<Measurement<long>> Sizes()
    {
        if (_lookout.Latest is { DatabaseBytes: { } file } look)
        {
            yield return new(file, Tag("file", "database"));
            yield return new(look.LogBytes ?? 0, Tag("file", "log"));
        }
    }

    private IEnumerable<Measurement<long>> Alerts()
    {
        if (_lookout.Latest?.Figures is { } figures)
        {
            yield return new(figures.AlertsOpen, Tag("state", "open"));
            yield return new(figures.AlertsSeen, Tag("state", "seen"));
        }
    }

    private IEnumerable<Measurement<double>> Age(DateTimeOffset? since) =>
        since is { } known ? [new Measurement<double>((_clock.GetUtcNow() - known).TotalSeconds)] : [];

    private static IEnumerable<Measurement<long>> One(long? value) => value is { } known ? [new Measurement<long>(known)] : [];

    private static KeyValuePair<string, object?> Tag(string name, string value) => new(name, value);
}
