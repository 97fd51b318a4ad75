namespace Washwear.Analytics.PartLife;

/// <summary>The same lives read on several clocks, such as days in service, washes and operating hours.</summary>
public sealed class MultiClockLives
{
    private readonly Lives[] _lives;
    private readonly double[] _logJacobians;

    internal MultiClockLives(Lives[] lives, double[] logJacobians)
    {
        _lives = lives;
        _logJacobians = logJacobians;
    }

    /// <summary>Names of the clocks; the first is the base on which densities are compared.</summary>
    public IReadOnlyList<string> Clocks => [.. _lives.Select(l => l.Clock)];

    /// <summary>The lives on one clock.</summary>
    /// <param name="clock">One of <see cref="Clocks"/>.</param>
    /// <exception cref="ArgumentException">There is no such clock.</exception>
    public Lives OnClock(string clock) =>
        Array.Find(_lives, l => l.Clock == clock) ?? throw new ArgumentException($"There is no clock '{clock}'.", nameof(clock));

    /// <summary>Sum over exact failures of ln(units of the clock per unit of the base clock).</summary>
    internal double LogJacobian(int clock) => _logJacobians[clock];

    internal Lives this[int clock] => _lives[clock];
}

/// <summary>Collects lives on several clocks at once, so that every clock speaks of the same parts. Refuses what cannot be.</summary>
public sealed class MultiClockLivesBuilder
{
    private readonly string[] _clocks;
    private readonly LivesBuilder[] _builders;
    private readonly double[] _logJacobians;

    /// <summary>Starts a collection.</summary>
    /// <param name="clocks">Two or more clocks with units, different names; the first is the base.</param>
    /// <exception cref="ArgumentException">Fewer than two clocks, or a name twice.</exception>
    public MultiClockLivesBuilder(params IReadOnlyList<string> clocks)
    {
        ArgumentNullException.ThrowIfNull(clocks);
        if (clocks.Count < 2 || clocks.Distinct(StringComparer.Ordinal).Count() != clocks.Count)
        {
            throw new ArgumentException("Two or more clocks with different names are needed.", nameof(clocks));
        }

        _clocks = [.. clocks];
        _builders = [.. clocks.Select(c => new LivesBuilder(c))];
        _logJacobians = new double[clocks.Count];
    }

    /// <summary>A part failed at ages known on every clock.</summary>
    /// <param name="ages">Its age on each clock, in the order of the clocks.</param>
    /// <param name="enteredAt">Its age on each clock when it was first watched; null for new.</param>
    /// <exception cref="LifeRefusedException">An age breaks a rule, or a clock's age is missing.</exception>
    public MultiClockLivesBuilder FailedAt(IReadOnlyList<double> ages, IReadOnlyList<double>? enteredAt = null)
    {
        double[] entries = Checked(ages, enteredAt, ages);
        for (int c = 0; c < _clocks.Length; c++)
        {
            _builders[c].FailedAt(ages[c], entries[c]);
            _logJacobians[c] += Math.Log((ages[c] - entries[c]) / (ages[0] - entries[0]));
        }

        return this;
    }

    /// <summary>A part works, or was taken out working, at ages known on every clock.</summary>
    /// <inheritdoc cref="FailedAt"/>
    public MultiClockLivesBuilder StillRunningAt(IReadOnlyList<double> ages, IReadOnlyList<double>? enteredAt = null)
    {
        double[] entries = Checked(ages, enteredAt, ages);
        for (int c = 0; c < _clocks.Length; c++)
        {
            _builders[c].StillRunningAt(ages[c], entries[c]);
        }

        return this;
    }

    /// <summary>A part was taken out working because it looked worn or poor, at ages known on every clock.</summary>
    /// <inheritdoc cref="FailedAt"/>
    public MultiClockLivesBuilder SwappedWhenPoorAt(IReadOnlyList<double> ages, IReadOnlyList<double>? enteredAt = null)
    {
        double[] entries = Checked(ages, enteredAt, ages);
        for (int c = 0; c < _clocks.Length; c++)
        {
            _builders[c].SwappedWhenPoorAt(ages[c], entries[c]);
        }

        return this;
    }

    /// <summary>A part worked at one look and was found failed at the next.</summary>
    /// <param name="lastSeenWorking">Its age on each clock at the look that found it working.</param>
    /// <param name="foundFailed">Its age on each clock at the look that found it failed.</param>
    /// <param name="enteredAt">Its age on each clock when it was first watched; null for new.</param>
    /// <exception cref="LifeRefusedException">An age breaks a rule, or a clock's age is missing.</exception>
    public MultiClockLivesBuilder FailedBetween(
        IReadOnlyList<double> lastSeenWorking, IReadOnlyList<double> foundFailed, IReadOnlyList<double>? enteredAt = null)
    {
        ArgumentNullException.ThrowIfNull(lastSeenWorking);
        double[] entries = Checked(foundFailed, enteredAt, lastSeenWorking);
        for (int c = 0; c < _clocks.Length; c++)
        {
            Refuse(LifeRules.WhyRefused(lastSeenWorking[c], foundFailed[c], entries[c]), c);
        }

        for (int c = 0; c < _clocks.Length; c++)
        {
            _builders[c].FailedBetween(lastSeenWorking[c], foundFailed[c], entries[c]);
        }

        return this;
    }

    /// <summary>A life is left out on all clocks, for instance because one of its meters was never read.</summary>
    /// <param name="reason">Why, in words.</param>
    /// <param name="count">How many lives, 1 or more.</param>
    public MultiClockLivesBuilder Exclude(string reason, int count = 1)
    {
        Array.ForEach(_builders, b => b.Exclude(reason, count));
        return this;
    }

    /// <summary>The lives added so far.</summary>
    public MultiClockLives Build() => new([.. _builders.Select(b => b.Build())], [.. _logJacobians]);

    private double[] Checked(IReadOnlyList<double> ages, IReadOnlyList<double>? enteredAt, IReadOnlyList<double> looks)
    {
        ArgumentNullException.ThrowIfNull(ages);
        double[] entries = enteredAt is null ? new double[_clocks.Length] : [.. enteredAt];
        if (ages.Count != _clocks.Length || entries.Length != _clocks.Length || looks.Count != _clocks.Length)
        {
            throw new LifeRefusedException("ages", $"Each life needs an age on each of the {_clocks.Length} clocks.");
        }

        for (int c = 0; c < _clocks.Length; c++)
        {
            Refuse(LifeRules.WhyRefused(ages[c], entries[c]), c);
        }

        return entries;
    }

    private void Refuse((string Field, string Rule)? why, int clock)
    {
        if (why is { } broken)
        {
            throw new LifeRefusedException(broken.Field, $"On the clock '{_clocks[clock]}': {broken.Rule}");
        }
    }
}
