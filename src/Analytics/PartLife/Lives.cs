namespace Washwear.Analytics.PartLife;

/// <summary>How many lives were left out for one reason.</summary>
/// <param name="Reason">Why, in words, such as 'fitting date unknown'.</param>
/// <param name="Count">How many, above 0.</param>
public sealed record Exclusion(string Reason, int Count);

/// <summary>
/// Lives of parts on one clock: exact failures, parts still running or swapped early (right-censored), failures between two looks
/// (interval-censored), each possibly entered late (left-truncated). Immutable; the order of the lives carries no meaning. Built by
/// <see cref="LivesBuilder"/>, which refuses what cannot be, so every age here is finite, above 0 and above its entry.
/// </summary>
public sealed class Lives
{
    private readonly FailureColumns _failed;
    private readonly FailureColumns _between;
    private readonly double[] _runningAges;
    private readonly double[] _runningEntries;
    private readonly bool[] _lookedPoor;

    internal Lives(
        string clock, string[] modes, FailureColumns failed, FailureColumns between, RunningColumns running, IReadOnlyList<Exclusion> excluded)
    {
        Clock = clock;
        Modes = modes;
        _failed = failed;
        _between = between;
        _runningAges = running.Ages;
        _runningEntries = running.Entries;
        _lookedPoor = running.LookedPoor;
        Excluded = excluded;
    }

    /// <summary>Name of the clock and unit of all ages, such as 'days in service' or 'washes'.</summary>
    public string Clock { get; }

    /// <summary>Failure modes named by at least one failure, in order of first appearance; empty when none was named.</summary>
    public IReadOnlyList<string> Modes { get; }

    /// <summary>Reasons for lives left out, most frequent first.</summary>
    public IReadOnlyList<Exclusion> Excluded { get; }

    /// <summary>Number of lives counted: failures and censored.</summary>
    public int Count => Failures + Censored;

    /// <summary>Number of failures, at an exact age or between two looks.</summary>
    public int Failures => _failed.Ages.Length + _between.Ages.Length;

    /// <summary>Number of failures known only to lie between two looks.</summary>
    public int FailedBetweenLooks => _between.Ages.Length;

    /// <summary>Number of lives that had not ended in a failure when last seen.</summary>
    public int Censored => _runningAges.Length;

    /// <summary>Number of censored lives that ended because the part looked worn or poor; see <see cref="PoorSwaps"/>.</summary>
    public int SwappedWhenPoor => _lookedPoor.Count(poor => poor);

    /// <summary>Number of lives watched only from an age above 0 on.</summary>
    public int EnteredLate => Late(_failed.Entries) + Late(_between.Entries) + Late(_runningEntries);

    /// <summary>Number of lives left out, over all reasons.</summary>
    public int ExcludedCount => Excluded.Sum(e => e.Count);

    /// <summary>Greatest age at which any of the parts was seen; 0 when there are no lives.</summary>
    public double OldestAge => new[] { _failed.Ages, _between.Ages, _runningAges }.Max(ages => ages.Length == 0 ? 0 : ages.Max());

    /// <summary>Ages of exact failures.</summary>
    internal double[] FailedAges => _failed.Ages;

    /// <summary>Entry ages of exact failures; empty when all are 0.</summary>
    internal double[] FailedEntries => _failed.Entries;

    /// <summary>Index into <see cref="Modes"/> of each exact failure, -1 for none; empty when no failure names a mode.</summary>
    internal int[] FailedModes => _failed.Modes;

    /// <summary>Ages at which failures between two looks were found.</summary>
    internal double[] FoundAges => _between.Ages;

    /// <summary>Ages last seen working before <see cref="FoundAges"/>, never below the entry.</summary>
    internal double[] SeenWorkingAges => _between.LastSeenWorking;

    /// <summary>Entry ages of failures between two looks; empty when all are 0.</summary>
    internal double[] FoundEntries => _between.Entries;

    /// <summary>Mode index of failures between two looks, as <see cref="FailedModes"/>.</summary>
    internal int[] FoundModes => _between.Modes;

    /// <summary>Last ages of parts that had not failed.</summary>
    internal double[] RunningAges => _runningAges;

    /// <summary>Entry ages of parts that had not failed; empty when all are 0.</summary>
    internal double[] RunningEntries => _runningEntries;

    /// <summary>
    /// The same lives as one failure mode sees them: a failure of another mode, or of none named, is censored at its age (at the last
    /// look when it lies between two; excluded and counted where the part was never seen working after its entry).
    /// </summary>
    /// <param name="mode">One of <see cref="Modes"/>.</param>
    /// <exception cref="ArgumentException">No failure names this mode.</exception>
    public Lives ForMode(string mode)
    {
        int wanted = Modes.ToList().IndexOf(mode);
        if (wanted < 0)
        {
            throw new ArgumentException($"No failure names the mode '{mode}'.", nameof(mode));
        }

        var builder = new LivesBuilder(Clock);
        builder.CopyRunning(this).CopyExclusions(this);
        builder.CopyFailures(_failed, wanted, mode);
        builder.CopyFailures(_between, wanted, mode);
        return builder.Build();
    }

    /// <summary>
    /// The same parts, watched only from <paramref name="age"/> on: lives that ended by then are dropped, without being counted as
    /// excluded. Methods then speak of parts that have survived to that age.
    /// </summary>
    /// <param name="age">Age, 0 or more, in the unit of the clock.</param>
    /// <exception cref="LifeRefusedException">The age is negative or not finite.</exception>
    public Lives SurvivingTo(double age)
    {
        if (!double.IsFinite(age) || age < 0)
        {
            throw new LifeRefusedException(nameof(age), "The age to survive to must be 0 or a finite number above it.");
        }

        var builder = new LivesBuilder(Clock);
        builder.CopyExclusions(this);
        for (int i = 0; i < _runningAges.Length; i++)
        {
            builder.RunningIfAfter(age, _runningAges[i], EntryAt(_runningEntries, i), LookedPoor(i));
        }

        builder.FailuresIfAfter(age, _failed, Modes);
        builder.FailuresIfAfter(age, _between, Modes);
        return builder.Build();
    }

    /// <summary>Entry age of the life at <paramref name="index"/> of a column that is empty when nobody entered late.</summary>
    internal static double EntryAt(double[] entries, int index) => entries.Length == 0 ? 0 : entries[index];

    /// <summary>True when the censored life at <paramref name="index"/> ended because the part looked worn or poor.</summary>
    internal bool LookedPoor(int index) => _lookedPoor.Length > 0 && _lookedPoor[index];

    /// <summary>Mode of an exact failure; null when none was named.</summary>
    internal string? ModeOfFailed(int index) => ModeAt(_failed.Modes, index);

    /// <summary>Mode of a failure between two looks; null when none was named.</summary>
    internal string? ModeOfFound(int index) => ModeAt(_between.Modes, index);

    private string? ModeAt(int[] modes, int index) => modes.Length == 0 || modes[index] < 0 ? null : Modes[modes[index]];

    private static int Late(double[] entries) => entries.Count(e => e > 0);
}

/// <summary>Failures as columns; all but <c>Ages</c> are empty when not used, <c>LastSeenWorking</c> always for exact failures.</summary>
internal sealed record FailureColumns(double[] Ages, double[] LastSeenWorking, double[] Entries, int[] Modes);

/// <summary>Lives that had not failed as columns; all but <c>Ages</c> are empty when not used.</summary>
internal sealed record RunningColumns(double[] Ages, double[] Entries, bool[] LookedPoor);
