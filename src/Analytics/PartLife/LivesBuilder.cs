namespace Washwear.Analytics.PartLife;

/// <summary>
/// The only way in for lives. Each adder names what happened to one part; a life that cannot be is refused with a
/// <see cref="LifeRefusedException"/> and nothing is added. Not safe for use from several threads.
/// </summary>
public sealed class LivesBuilder
{
    private readonly string _clock;
    private readonly List<string> _modes = [];
    private readonly Dictionary<string, int> _excluded = new(StringComparer.Ordinal);
    private readonly ColumnList _failed = new();
    private readonly ColumnList _between = new();
    private readonly ColumnList _running = new();

    /// <summary>Starts a collection of lives whose ages are all read on one clock.</summary>
    /// <param name="clock">Name and unit, such as 'days in service', 'washes' or 'operating hours'.</param>
    /// <param name="expectedCount">How many lives are expected, to save memory; 0 when unknown.</param>
    public LivesBuilder(string clock, int expectedCount = 0)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(clock);
        _clock = clock;
        _running.Ages.Capacity = Math.Max(0, expectedCount);
    }

    /// <summary>Number of lives added so far, exclusions not counted.</summary>
    public int Count => _failed.Ages.Count + _between.Ages.Count + _running.Ages.Count;

    /// <summary>A part failed at a known age.</summary>
    /// <param name="age">Age at failure, above 0.</param>
    /// <param name="enteredAt">Age from which the part was watched, 0 when from new; below <paramref name="age"/>.</param>
    /// <param name="mode">Failure mode, or null when not told apart.</param>
    /// <exception cref="LifeRefusedException">An age breaks a rule.</exception>
    public LivesBuilder FailedAt(double age, double enteredAt = 0, string? mode = null)
    {
        Refuse(LifeRules.WhyRefused(age, enteredAt));
        _failed.Add(age, enteredAt, ModeIndex(mode));
        return this;
    }

    /// <summary>A part works and was last known to at this age.</summary>
    /// <inheritdoc cref="FailedAt" path="/exception"/>
    public LivesBuilder StillRunningAt(double age, double enteredAt = 0)
    {
        Refuse(LifeRules.WhyRefused(age, enteredAt));
        _running.Add(age, enteredAt, -1);
        return this;
    }

    /// <summary>A working part was taken out: swapped as a precaution, sold or scrapped with its unit. It did not fail.</summary>
    /// <inheritdoc cref="FailedAt" path="/exception"/>
    public LivesBuilder SwappedEarlyAt(double age, double enteredAt = 0) => StillRunningAt(age, enteredAt);

    /// <summary>
    /// A working part was taken out because it looked worn or poor. Counted as <see cref="SwappedEarlyAt"/>, which flatters the life, since
    /// such a part was nearer to its failure than others of its age; <see cref="PoorSwaps"/> says by how much that may matter.
    /// </summary>
    /// <inheritdoc cref="FailedAt" path="/exception"/>
    public LivesBuilder SwappedWhenPoorAt(double age, double enteredAt = 0)
    {
        Refuse(LifeRules.WhyRefused(age, enteredAt));
        _running.Add(age, enteredAt, -1, lookedPoor: true);
        return this;
    }

    /// <summary>
    /// A part worked at one look and was found failed at the next. A look before the entry is cut at the entry, because only parts
    /// that survived to their entry are seen at all.
    /// </summary>
    /// <param name="lastSeenWorking">Age at the last look that found it working; 0 when it was never looked at.</param>
    /// <param name="foundFailed">Age at the look that found it failed.</param>
    /// <param name="enteredAt">Age from which the part was watched, below <paramref name="foundFailed"/>.</param>
    /// <param name="mode">Failure mode, or null when not told apart.</param>
    /// <exception cref="LifeRefusedException">An age breaks a rule.</exception>
    public LivesBuilder FailedBetween(double lastSeenWorking, double foundFailed, double enteredAt = 0, string? mode = null)
    {
        Refuse(LifeRules.WhyRefused(lastSeenWorking, foundFailed, enteredAt));
        _between.Add(foundFailed, enteredAt, ModeIndex(mode));
        _between.LastSeenWorking.Add(Math.Max(lastSeenWorking, enteredAt));
        return this;
    }

    /// <summary>A life is left out; the reason travels with every result.</summary>
    /// <param name="reason">Why, in words, such as 'fitting date unknown'.</param>
    /// <param name="count">How many lives, 1 or more.</param>
    public LivesBuilder Exclude(string reason, int count = 1)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(reason);
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        _excluded[reason] = _excluded.GetValueOrDefault(reason) + count;
        return this;
    }

    /// <summary>The lives added so far, as an immutable collection.</summary>
    public Lives Build() => new(
        _clock,
        [.. _modes],
        _failed.ToColumns(),
        _between.ToColumns(),
        new RunningColumns([.. _running.Ages], [.. _running.Entries], [.. _running.LookedPoor]),
        [.. _excluded.Select(e => new Exclusion(e.Key, e.Value))
            .OrderByDescending(e => e.Count).ThenBy(e => e.Reason, StringComparer.Ordinal)]);

    internal LivesBuilder CopyExclusions(Lives lives)
    {
        foreach (Exclusion exclusion in lives.Excluded)
        {
            Exclude(exclusion.Reason, exclusion.Count);
        }

        return this;
    }

    /// <summary>Adds all lives and exclusions of a collection.</summary>
    internal void CopyAll(Lives lives)
    {
        CopyExclusions(lives).CopyRunning(lives);
        CopyFailures(lives);
    }

    /// <summary>Adds all lives and exclusions; parts swapped because they looked poor count as failed when they were swapped.</summary>
    internal void CopyWithPoorAsFailed(Lives lives)
    {
        CopyExclusions(lives).CopyFailures(lives);
        for (int i = 0; i < lives.RunningAges.Length; i++)
        {
            double enteredAt = Lives.EntryAt(lives.RunningEntries, i);
            _ = lives.LookedPoor(i) ? FailedAt(lives.RunningAges[i], enteredAt) : StillRunningAt(lives.RunningAges[i], enteredAt);
        }
    }

    internal LivesBuilder CopyRunning(Lives lives)
    {
        for (int i = 0; i < lives.RunningAges.Length; i++)
        {
            _running.Add(lives.RunningAges[i], Lives.EntryAt(lives.RunningEntries, i), -1, lives.LookedPoor(i));
        }

        return this;
    }

    private void CopyFailures(Lives lives)
    {
        for (int i = 0; i < lives.FailedAges.Length; i++)
        {
            FailedAt(lives.FailedAges[i], Lives.EntryAt(lives.FailedEntries, i), lives.ModeOfFailed(i));
        }

        for (int i = 0; i < lives.FoundAges.Length; i++)
        {
            FailedBetween(lives.SeenWorkingAges[i], lives.FoundAges[i], Lives.EntryAt(lives.FoundEntries, i), lives.ModeOfFound(i));
        }
    }

    internal void CopyFailures(FailureColumns from, int wantedMode, string mode)
    {
        for (int i = 0; i < from.Ages.Length; i++)
        {
            double enteredAt = Lives.EntryAt(from.Entries, i);
            double working = from.LastSeenWorking.Length == 0 ? from.Ages[i] : from.LastSeenWorking[i];
            if (from.Modes.Length > 0 && from.Modes[i] == wantedMode)
            {
                AddFailure(from, i, enteredAt, mode);
            }
            else if (working > enteredAt)
            {
                StillRunningAt(working, enteredAt);
            }
            else
            {
                Exclude("failed of another mode before the first look");
            }
        }
    }

    internal void RunningIfAfter(double age, double end, double enteredAt, bool lookedPoor)
    {
        if (end > age)
        {
            _running.Add(end, Math.Max(age, enteredAt), -1, lookedPoor);
        }
    }

    internal void FailuresIfAfter(double age, FailureColumns from, IReadOnlyList<string> modes)
    {
        for (int i = 0; i < from.Ages.Length; i++)
        {
            if (from.LastSeenWorking.Length > 0 && from.LastSeenWorking[i] < age && from.Ages[i] > age)
            {
                Exclude("not known to have survived to the age asked for");
            }
            else if (from.Ages[i] > age)
            {
                int mode = from.Modes.Length == 0 ? -1 : from.Modes[i];
                AddFailure(from, i, Math.Max(age, Lives.EntryAt(from.Entries, i)), mode < 0 ? null : modes[mode]);
            }
        }
    }

    private void AddFailure(FailureColumns from, int index, double enteredAt, string? mode)
    {
        if (from.LastSeenWorking.Length == 0)
        {
            FailedAt(from.Ages[index], enteredAt, mode);
        }
        else
        {
            FailedBetween(from.LastSeenWorking[index], from.Ages[index], enteredAt, mode);
        }
    }

    private static void Refuse((string Field, string Rule)? why)
    {
        if (why is { } broken)
        {
            throw new LifeRefusedException(broken.Field, broken.Rule);
        }
    }

    private int ModeIndex(string? mode)
    {
        if (mode is null)
        {
            return -1;
        }

        int known = _modes.IndexOf(mode);
        if (known < 0)
        {
            _modes.Add(mode);
        }

        return known < 0 ? _modes.Count - 1 : known;
    }

    /// <summary>Columns that stay empty until a value differs from the default, so that plain lives cost 8 bytes each.</summary>
    private sealed class ColumnList
    {
        public List<double> Ages { get; } = [];

        public List<double> LastSeenWorking { get; } = [];

        public List<double> Entries { get; } = [];

        public List<bool> LookedPoor { get; } = [];

        private List<int> Modes { get; } = [];

        public void Add(double age, double enteredAt, int mode, bool lookedPoor = false)
        {
            AddSparsely(Entries, enteredAt, 0, Ages.Count);
            AddSparsely(LookedPoor, lookedPoor, false, Ages.Count);
            AddSparsely(Modes, mode, -1, Ages.Count);
            Ages.Add(age);
        }

        public FailureColumns ToColumns() => new([.. Ages], [.. LastSeenWorking], [.. Entries], [.. Modes]);

        private static void AddSparsely<T>(List<T> column, T value, T usual, int rowsBefore)
            where T : IEquatable<T>
        {
            if (column.Count == 0 && value.Equals(usual))
            {
                return;
            }

            if (column.Count == 0)
            {
                column.AddRange(Enumerable.Repeat(usual, rowsBefore));
            }

            column.Add(value);
        }
    }
}
