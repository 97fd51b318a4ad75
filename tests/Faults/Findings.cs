using System.Collections.Concurrent;
using System.Globalization;

namespace Washwear.Faults;

/// <summary>What a fault brought to light: figures that were counted, and what broke a promise. Safe for concurrent use.</summary>
internal sealed class Findings
{
    private readonly ConcurrentDictionary<string, long> _figures = new(StringComparer.Ordinal);
    private readonly ConcurrentQueue<string> _violations = new();
    private readonly ConcurrentQueue<string> _notes = new();

    /// <summary>What broke a promise; empty: nothing.</summary>
    public IReadOnlyCollection<string> Violations => _violations;

    /// <summary>What is worth telling and is no figure.</summary>
    public IReadOnlyCollection<string> Notes => _notes;

    /// <summary>A figure; 0 if it was never counted.</summary>
    /// <param name="figure">Its name.</param>
    public long this[string figure] => _figures.GetValueOrDefault(figure);

    /// <summary>Counts on.</summary>
    /// <param name="figure">Name of the figure.</param>
    /// <param name="by">How many more.</param>
    public void Count(string figure, long by = 1) => _figures.AddOrUpdate(figure, by, (_, before) => before + by);

    /// <summary>Keeps the largest.</summary>
    /// <param name="figure">Name of the figure.</param>
    /// <param name="value">A value.</param>
    public void Largest(string figure, long value) => _figures.AddOrUpdate(figure, value, (_, before) => Math.Max(before, value));

    /// <summary>Tells of a broken promise.</summary>
    /// <param name="what">What broke, with what it takes to find it again.</param>
    public void Violate(string what) => _violations.Enqueue(what);

    /// <summary>Tells of a broken promise unless a condition holds.</summary>
    /// <param name="holds">The condition.</param>
    /// <param name="what">What broke otherwise.</param>
    public void Expect(bool holds, string what)
    {
        if (!holds)
        {
            Violate(what);
        }
    }

    /// <summary>Tells something once.</summary>
    /// <param name="what">What.</param>
    public void Note(string what)
    {
        if (!_notes.Contains(what))
        {
            _notes.Enqueue(what);
        }
    }

    /// <summary>Prints all of it.</summary>
    /// <param name="to">Where to.</param>
    public void Print(TextWriter to)
    {
        foreach ((string figure, long value) in _figures.OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{figure}: {value:N0}"));
        }

        foreach (string note in _notes)
        {
            to.WriteLine("note: " + note);
        }

        foreach (string violation in _violations.Take(50))
        {
            to.WriteLine("VIOLATION: " + violation);
        }

        to.WriteLine(_violations.IsEmpty ? "Every promise was kept." : $"{_violations.Count} promises were broken.");
    }
}
