using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>The stretches in which a unit is out of service, merged and in order, the times before and after its service
/// included.</summary>
internal sealed class OutOfServiceTimes
{
    private readonly List<(Instant From, Instant To)> _stretches = [];

    public OutOfServiceTimes(SiteCalendar calendar, UnitService service)
    {
        List<(Instant From, Instant To)> all =
            [.. service.OutOfService.Select(p => (p.From, p.To ?? Instant.MaxValue)).Where(p => p.From < p.Item2)];
        if (service.CommissionedOn is { } first)
        {
            all.Add((Instant.MinValue, calendar.StartOf(first)));
        }

        if (service.DecommissionedOn is { } end)
        {
            all.Add((calendar.StartOf(end), Instant.MaxValue));
        }

        foreach ((Instant from, Instant to) in all.Order())
        {
            if (_stretches.Count > 0 && from <= _stretches[^1].To)
            {
                _stretches[^1] = (_stretches[^1].From, Instant.Max(_stretches[^1].To, to));
            }
            else
            {
                _stretches.Add((from, to));
            }
        }
    }

    public bool Contains(Instant at) => IndexAt(at) is var i && i >= 0 && at < _stretches[i].To;

    /// <summary>The first instant at or after <paramref name="at"/> that is in service; null when there is none.</summary>
    public Instant? InServiceFrom(Instant at) =>
        !Contains(at) ? at : _stretches[IndexAt(at)].To is var to && to == Instant.MaxValue ? null : to;

    /// <summary>The first begin or end of a stretch after <paramref name="at"/>.</summary>
    public Instant NextChangeAfter(Instant at)
    {
        int i = IndexAt(at);
        return i >= 0 && at < _stretches[i].To ? _stretches[i].To : i + 1 < _stretches.Count ? _stretches[i + 1].From : Instant.MaxValue;
    }

    /// <summary>Whether any instant of [from, to] is out of service.</summary>
    public bool AnyWithin(Instant from, Instant to) => Contains(from) || NextChangeAfter(from) <= to;

    /// <summary>Time out of service within [from, to).</summary>
    public Duration Within(Instant from, Instant to)
    {
        Duration sum = Duration.Zero;
        for (int i = Math.Max(0, IndexAt(from)); i < _stretches.Count && _stretches[i].From < to; i++)
        {
            Instant begin = Instant.Max(from, _stretches[i].From);
            Instant end = Instant.Min(to, _stretches[i].To);
            sum += end > begin ? end - begin : Duration.Zero;
        }

        return sum;
    }

    /// <summary>Index of the last stretch that begins at or before <paramref name="at"/>; -1 when there is none.</summary>
    private int IndexAt(Instant at)
    {
        (int low, int high) = (0, _stretches.Count);
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = _stretches[middle].From <= at ? (middle + 1, high) : (low, middle);
        }

        return low - 1;
    }
}
