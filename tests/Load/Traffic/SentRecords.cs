using System.Globalization;

namespace Washwear.Load.Traffic;

/// <summary>What a sender knows of a record that it sent.</summary>
internal enum Fate : byte
{
    /// <summary>There was no answer: it may be there or not.</summary>
    Unknown,

    /// <summary>It was acknowledged: it is there, once.</summary>
    Acknowledged,

    /// <summary>It was told to come again, and nothing of it was taken in: it is not there.</summary>
    Shed,
}

/// <summary>Every record that was sent in one run, with what was said of it. Safe for concurrent use.</summary>
/// <param name="run">Name of the run: begin of all keys.</param>
internal sealed class SentRecords(string run)
{
    private readonly Lock _gate = new();
    private readonly List<Sent> _records = [];

    /// <summary>How many were sent.</summary>
    public int Count
    {
        get
        {
            lock (_gate)
            {
                return _records.Count;
            }
        }
    }

    /// <summary>Name of the run.</summary>
    public string Run => run;

    /// <summary>Notes a record that is about to be sent.</summary>
    /// <param name="source">Its source.</param>
    /// <param name="type">Its type.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="atMs">Its instant, ms since 1970.</param>
    /// <returns>Its number.</returns>
    public int Add(string source, string type, string unit, long atMs)
    {
        lock (_gate)
        {
            _records.Add(new Sent(source, type, unit, atMs, Fate.Unknown));
            return _records.Count - 1;
        }
    }

    /// <summary>Key of a record.</summary>
    /// <param name="number">Its number.</param>
    public string KeyOf(int number) => string.Create(CultureInfo.InvariantCulture, $"{run}-{number:D9}");

    /// <summary>Number of the record with a key of this run; null: there is none.</summary>
    /// <param name="key">The key.</param>
    public int? NumberOf(string key) =>
        key.StartsWith(run + "-", StringComparison.Ordinal) && int.TryParse(key.AsSpan(run.Length + 1), NumberStyles.None, CultureInfo.InvariantCulture, out int number)
            ? number
            : null;

    /// <summary>Notes what was said of records.</summary>
    /// <param name="numbers">Their numbers.</param>
    /// <param name="fate">What.</param>
    public void Mark(IReadOnlyList<int> numbers, Fate fate)
    {
        lock (_gate)
        {
            foreach (int number in numbers)
            {
                // What was acknowledged once stays so, whatever is said when it is sent again.
                if (_records[number].Fate != Fate.Acknowledged)
                {
                    _records[number] = _records[number] with { Fate = fate };
                }
            }
        }
    }

    /// <summary>All of them; when nobody sends any more.</summary>
    public IReadOnlyList<Sent> All() => _records;

    /// <summary>A record.</summary>
    /// <param name="Source">Its source.</param>
    /// <param name="Type">Its type.</param>
    /// <param name="Unit">Its unit.</param>
    /// <param name="AtMs">Its instant, ms since 1970.</param>
    /// <param name="Fate">What was said of it.</param>
    internal readonly record struct Sent(string Source, string Type, string Unit, long AtMs, Fate Fate);
}
