using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>A record and when it reaches the service.</summary>
internal readonly record struct Delivery(IncomingRecord Record, DateTimeOffset DeliveredAt);

/// <summary>How a unit's records reach the service: mostly at once, some late, some twice, some never.</summary>
/// <remarks>It draws from a stream of its own, so that delivery never changes what happens.</remarks>
internal sealed class Gateway(Random random, IReadOnlyList<Silence> silences, SimulationWindow window)
{
    private const double LateShare = 0.01;
    private const double DuplicateShare = 0.006;
    private const double LateSheetShare = 0.1;

    private readonly PriorityQueue<Delivery, (DateTimeOffset, long)> _waiting = new();
    private long _order;

    /// <summary>Sends what the unit itself reports; false: it never arrives by the end.</summary>
    internal bool FromUnit(IncomingRecord record, DateTimeOffset ready)
    {
        DateTimeOffset? sent = SendingTime(ready);
        if (sent is null)
        {
            return false;
        }

        DateTimeOffset delivered = random.Happens(LateShare) ? sent.Value.AddHours(random.About(8, 1)) : sent.Value.AddSeconds(20);
        if (random.Happens(DuplicateShare))
        {
            Deliver(record, delivered.AddHours(random.Between(0, 6)));
        }

        return Deliver(record, delivered);
    }

    /// <summary>Sends what a person writes down; false: it does not arrive by the end.</summary>
    internal bool FromPeople(IncomingRecord record, DateTimeOffset ready) =>
        Deliver(record, random.Happens(LateSheetShare) ? ready.AddDays(random.Between(1, 6)) : ready.AddHours(random.About(1.5, 0.8)));

    /// <summary>Sends what people enter in the job system itself, which nothing delays.</summary>
    internal void AtOnce(IncomingRecord record, DateTimeOffset entered) => Deliver(record, entered);

    /// <summary>What has been delivered before an instant, in that order.</summary>
    internal IEnumerable<Delivery> DeliveredBefore(DateTimeOffset instant)
    {
        while (_waiting.TryPeek(out Delivery next, out _) && next.DeliveredAt < instant)
        {
            yield return _waiting.Dequeue();
        }
    }

    private DateTimeOffset? SendingTime(DateTimeOffset ready)
    {
        foreach (Silence silence in silences)
        {
            if (ready >= silence.From && ready < silence.To)
            {
                return silence.Buffered && silence.To < window.AsOf ? silence.To.AddMinutes(random.Between(1, 30)) : null;
            }
        }

        return ready;
    }

    private bool Deliver(IncomingRecord record, DateTimeOffset delivered)
    {
        if (delivered > window.AsOf)
        {
            return false;
        }

        _waiting.Enqueue(new Delivery(record, delivered), (delivered, _order++));
        return true;
    }
}
