using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Demo;

/// <summary>What the people of a kitchen mean to do with a unit on one day.</summary>
internal static class TradingDay
{
    private const double DeepWashAfterDays = 5.5;
    private const double DescaleAfterDays = 25;
    private const double CookingHours = 9;
    private const int DeepWashingOperator = 1;

    internal static void Plan(UnitState state, DateOnly date)
    {
        KitchenHours hours = state.Plan.Site.Hours;
        if (hours.Trades(date))
        {
            state.OperatingHours += CookingHours;
            PlanAfternoon(state, date);
            PlanNight(state, date);
        }

        DateTimeOffset dayStart = hours.DayStart(date);
        state.Schedule(hours.DayEnd(date).AddMinutes(-8), at => Heartbeat(state, dayStart, at));
        if (date.Day == 1)
        {
            state.Schedule(hours.At(date, 6), at => Meter(state, at));
        }
    }

    private static void PlanAfternoon(UnitState state, DateOnly date)
    {
        Random random = state.Random;
        KitchenHours hours = state.Plan.Site.Hours;
        if (random.Happens(state.Plan.Site.Habits.WashesByDay))
        {
            ProgrammeGrade grade = random.Happens(0.6) ? ProgrammeGrade.Light : ProgrammeGrade.Rinse;
            Schedule(state, hours.At(date, hours.ClosesAtHours - random.Between(3, 6)), grade);
        }

        DateTimeOffset descale = hours.At(date, hours.ClosesAtHours - random.Between(1.4, 1.9));
        if ((descale - state.LastDescaleAt).TotalDays > DescaleAfterDays && random.Happens(0.6))
        {
            Schedule(state, descale, ProgrammeGrade.Descale);
        }
    }

    private static void PlanNight(UnitState state, DateOnly date)
    {
        Random random = state.Random;
        KitchenHours hours = state.Plan.Site.Hours;
        CrewHabits habits = state.Plan.Site.Habits;
        DateTimeOffset night = hours.At(date, hours.ClosesAtHours + random.Between(0.1, 0.8));
        ProgrammeGrade grade = random.Happens(habits.PicksShortProgramme) ? ProgrammeGrade.Light
            : IsDeepWashDue(state, night) ? ProgrammeGrade.Intensive : ProgrammeGrade.Standard;
        if (!random.Happens(habits.MissesNight))
        {
            Schedule(state, night, grade);
        }
        else if (random.Happens(habits.CatchesUp))
        {
            Schedule(state, hours.At(date.AddDays(1), random.Between(6.5, 9)), ProgrammeGrade.Standard);
        }
    }

    private static bool IsDeepWashDue(UnitState state, DateTimeOffset at) =>
        state.Plan.Site.Operator == DeepWashingOperator && (at - state.LastDeepWashAt).TotalDays > DeepWashAfterDays;

    private static void Schedule(UnitState state, DateTimeOffset at, ProgrammeGrade grade) =>
        state.Schedule(at, then => Washing.Try(state, then, grade));

    // A unit that is switched on says so on a day on which nothing else was heard of it.
    private static void Heartbeat(UnitState state, DateTimeOffset dayStart, DateTimeOffset at)
    {
        if (state.LastTryAt < dayStart && state.IsInUse(at))
        {
            state.Reports.Heartbeat(at);
        }
    }

    private static void Meter(UnitState state, DateTimeOffset at)
    {
        if (state.IsInUse(at))
        {
            state.Reports.Meter(at, state.WashesTotal, state.OperatingHours);
        }
    }
}
