namespace Washwear.Analytics.Diagnosis;

/// <summary>One diagnostic step, and what it says of the causes of a fault.</summary>
public sealed record DiagnosticCheck
{
    /// <summary>A step.</summary>
    /// <param name="check">Code.</param>
    /// <param name="minutes">Minutes it takes, above 0 and finite. A step that takes no time is refused: nothing would be left to
    /// order.</param>
    /// <param name="speaksOf">Indices of the causes that make it fire; repeated ones count once. Empty: it says nothing.</param>
    /// <param name="miss">Chance that it does not fire although one of them is present, 0 to 1.</param>
    /// <param name="falseAlarm">Chance that it fires although none of them is present, 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public DiagnosticCheck(string check, double minutes, IReadOnlyList<int> speaksOf, double miss = 0, double falseAlarm = 0)
    {
        ArgumentNullException.ThrowIfNull(check);
        ArgumentNullException.ThrowIfNull(speaksOf);
        Requirements.Minutes(minutes, nameof(minutes));
        Requirements.InRange(miss, 0, 1, nameof(miss));
        Requirements.InRange(falseAlarm, 0, 1, nameof(falseAlarm));
        if (speaksOf.Any(cause => cause < 0))
        {
            throw new ArgumentOutOfRangeException(nameof(speaksOf), "An index of a cause is 0 or more.");
        }

        Check = check;
        Minutes = minutes;
        SpeaksOf = [.. speaksOf.Distinct().Order()];
        Miss = miss;
        FalseAlarm = falseAlarm;
    }

    /// <summary>Code.</summary>
    public string Check { get; }

    /// <summary>Minutes it takes.</summary>
    public double Minutes { get; }

    /// <summary>Indices of the causes that make it fire, ascending.</summary>
    public IReadOnlyList<int> SpeaksOf { get; }

    /// <summary>Chance that it does not fire although one of its causes is present.</summary>
    public double Miss { get; }

    /// <summary>Chance that it fires although none of its causes is present.</summary>
    public double FalseAlarm { get; }

    /// <summary>Whether it fires with another chance for what it speaks of than for anything else.</summary>
    public bool TellsApart => SpeaksOf.Count > 0 && 1 - Miss != FalseAlarm;

    /// <summary>Probability that the check speaks of the cause that is present.</summary>
    /// <param name="probabilities">Probability of each cause.</param>
    public double ProbabilityItSpeaksOf(IReadOnlyList<double> probabilities)
    {
        ArgumentNullException.ThrowIfNull(probabilities);
        RequireCauses(probabilities.Count);
        return Math.Min(1, SpeaksOf.Sum(cause => probabilities[cause]));
    }

    /// <summary>Chance of an outcome for each of the causes, were it the one that is present.</summary>
    internal double[] ChanceOf(CheckOutcome outcome, int causes)
    {
        RequireCauses(causes);
        // A small chance to miss is lost in 1 - (1 - miss).
        (double ifSpokenOf, double ifNot) = outcome switch
        {
            CheckOutcome.Fires => (1 - Miss, FalseAlarm),
            CheckOutcome.DoesNotFire => (Miss, 1 - FalseAlarm),
            CheckOutcome.NotDone => (1, 1),
            _ => throw new ArgumentOutOfRangeException(nameof(outcome), outcome, "Unknown outcome."),
        };
        double[] chance = new double[causes];
        Array.Fill(chance, ifNot);
        foreach (int cause in SpeaksOf)
        {
            chance[cause] = ifSpokenOf;
        }

        return chance;
    }

    /// <summary>Refuses a check that speaks of a cause beyond the last.</summary>
    internal void RequireCauses(int causes)
    {
        if (SpeaksOf.Count > 0 && SpeaksOf[^1] >= causes)
        {
            throw new ArgumentOutOfRangeException(
                nameof(causes), causes, $"Check '{Check}' speaks of cause {SpeaksOf[^1]}, the last is {causes - 1}.");
        }
    }
}

/// <summary>How a check went.</summary>
public enum CheckOutcome
{
    /// <summary>It shows something wrong.</summary>
    Fires,

    /// <summary>It shows nothing wrong.</summary>
    DoesNotFire,

    /// <summary>It was not done: it tells nothing and is not proposed again.</summary>
    NotDone,
}
