namespace Washwear.Api.Demo;

/// <summary>What the people of a kitchen do, as chances; true values, which no record states.</summary>
/// <param name="MissesNight">Chance that nobody starts the night wash.</param>
/// <param name="CatchesUp">Chance that a missed night is made good next morning.</param>
/// <param name="StopsWash">Chance that a person stops a wash.</param>
/// <param name="PicksShortProgramme">Chance that a programme below the rule's grade is chosen at night.</param>
/// <param name="WashesByDay">Chance of one more, short wash in the afternoon.</param>
/// <param name="LooksForDetergent">Chance that somebody looks whether detergent is left, and reports it.</param>
/// <param name="TriesWhileLockedOut">Chance of a try, and so of a refusal, on a night on which the unit is locked out.</param>
/// <param name="CleansByHand">Chance of a manual clean, attested by a person, on such a night.</param>
/// <param name="AsksAfterHours">Median time from a lockout to asking for a visit, hours.</param>
/// <param name="DecidesAfterDays">Median time from asking for an approval to the decision, days.</param>
public sealed record CrewHabits(
    double MissesNight, double CatchesUp, double StopsWash, double PicksShortProgramme, double WashesByDay, double LooksForDetergent,
    double TriesWhileLockedOut, double CleansByHand, double AsksAfterHours, double DecidesAfterDays)
{
    // One operator decides slowly: what an approval costs in unwashed days is then to be seen.
    private static readonly double[] DecisionDays = [1.5, 4.5, 2];

    internal static CrewHabits Draw(Random random, int operatorIndex) => new(
        MissesNight: Math.Min(0.35, random.About(0.025, 0.8)),
        CatchesUp: random.Between(0.2, 0.6),
        StopsWash: Math.Min(0.12, random.About(0.012, 0.7)),
        PicksShortProgramme: Math.Min(0.2, random.About(0.015, 0.9)),
        WashesByDay: random.Happens(0.4) ? random.Between(0, 0.1) : random.Between(0.7, 1.0),
        LooksForDetergent: random.Between(0.15, 0.5),
        TriesWhileLockedOut: random.Between(0.3, 0.8),
        CleansByHand: random.Between(0, 0.25),
        AsksAfterHours: random.About(7, 0.8),
        DecidesAfterDays: DecisionDays[operatorIndex]);
}
