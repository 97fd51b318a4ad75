using System.Globalization;
using NodaTime;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Takes decisions about planned jobs: checked in the transaction that adds them.</summary>
/// <param name="database">The database.</param>
/// <param name="plans">The plan, which knows the part that is fitted and the day that it has for a job.</param>
/// <param name="clock">The clock.</param>
internal sealed class PlanDecisions(Database database, FleetPlan plans, TimeProvider clock)
{
    private const int LongestText = 1000;
    private const int MostYearsAhead = 5;

    /// <summary>Takes one.</summary>
    /// <param name="decision">The decision.</param>
    /// <param name="enteredBy">Name of the key with which it is entered.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>Number of the decision; or why it was not taken.</returns>
    public async Task<(long? Id, ProblemResult? Problem)> DecideAsync(
        PlanDecisionResource decision, string enteredBy, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        PlanNow plan = await plans.CurrentAsync(now, cancellationToken);
        PlanBook book = plan.Book;
        if (!book.Registry.Units.TryGetValue(decision.Unit, out UnitEntry? unit))
        {
            return (null, Problems.Invalid("unit", "unknown_unit", $"There is no unit '{decision.Unit}'.", "Mend the asset tag; /v1/units lists them."));
        }

        if (!unit.Model.Positions.TryGetValue(decision.Position, out PositionResource? position))
        {
            return (null, Problems.Invalid(
                "position", "unknown_position", $"Model '{unit.Model.Resource.Model}' has no position '{decision.Position}'.", "Mend the code."));
        }

        PlanPart? part = book.At(unit.Id, position.Position);
        DateOnly? day = decision.Date ?? (decision.Decision == PlanDecisionWord.Accepted ? plan.DayOf(part) : null);
        FieldProblem[] wrong = [.. Wrong(decision, day, book.Registry.Cleaning.ById[unit.Id], now)];
        if (wrong.Length > 0)
        {
            return (null, Problems.Invalid(wrong));
        }

        return await AddAsync(
            new StoredPlanDecision
            {
                UnitId = unit.Id,
                Position = position.Position,
                Ordinal = part?.Life.Ordinal,
                Decision = Json.Name(decision.Decision.ToString()),
                Day = day is { } date ? Text(date) : null,
                Reason = decision.Reason?.Trim(),
                ByName = decision.By.Trim(),
                EnteredBy = enteredBy,
                At = now,
            },
            cancellationToken);
    }

    /// <summary>A day as the database holds it.</summary>
    /// <param name="day">The day.</param>
    public static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private Task<(long? Id, ProblemResult? Problem)> AddAsync(StoredPlanDecision decision, CancellationToken cancellationToken) =>
        database.WriteAsync<(long?, ProblemResult?)>(
            async session =>
            {
                if (decision.Decision == "revoked"
                    && await PlanDecisionQueries.LastAsync(session, decision.UnitId, decision.Position, cancellationToken) is null or { Decision: "revoked" })
                {
                    return (null, Problems.Status(
                        StatusCodes.Status409Conflict, "Nothing that was decided about this position is in force, so there is nothing to revoke."));
                }

                return (await PlanDecisionQueries.AddAsync(session, decision, cancellationToken), null);
            },
            cancellationToken);

    private static IEnumerable<FieldProblem> Wrong(PlanDecisionResource decision, DateOnly? day, UnitTerms unit, DateTimeOffset now)
    {
        if (string.IsNullOrWhiteSpace(decision.By))
        {
            yield return new("by", "required", "Nobody is named who decides.", "Name who decides.");
        }

        bool asksWhy = decision.Decision is PlanDecisionWord.Postponed or PlanDecisionWord.Rejected;
        if (asksWhy && string.IsNullOrWhiteSpace(decision.Reason))
        {
            yield return new("reason", "required", "No reason is given.", "Say why, so that the next reader need not ask.");
        }

        foreach ((string field, string? text) in new[] { ("by", decision.By), ("reason", decision.Reason) })
        {
            if (text?.Length > LongestText)
            {
                yield return new(field, "length", $"It is longer than {LongestText} characters.", "Shorten it.");
            }
        }

        foreach (FieldProblem problem in WrongDay(decision, day, unit, now))
        {
            yield return problem;
        }
    }

    private static IEnumerable<FieldProblem> WrongDay(PlanDecisionResource decision, DateOnly? day, UnitTerms unit, DateTimeOffset now)
    {
        bool takesDay = decision.Decision is PlanDecisionWord.Accepted or PlanDecisionWord.Postponed;
        if (!takesDay)
        {
            if (decision.Date is not null)
            {
                yield return new("date", "not_here", "This decision takes no date.", "Leave date out.");
            }

            yield break;
        }

        if (day is not { } date)
        {
            yield return new(
                "date", "required", "No date is given, and the plan has none for this job.",
                decision.Decision == PlanDecisionWord.Accepted ? "Give the day of the job." : "Give the first day on which it may be done.");
            yield break;
        }

        DateOnly today = unit.Calendar.DayOf(Instant.FromDateTimeOffset(now)).Date.ToDateOnly();
        if (date < today || date > today.AddYears(MostYearsAhead))
        {
            yield return new(
                "date", "range", $"{Text(date)} lies in the past or more than {MostYearsAhead} years ahead.", $"Give {Text(today)} or later.");
        }
        else if (decision.Decision == PlanDecisionWord.Accepted && !unit.Calendar.Day(LocalDate.FromDateOnly(date)).IsOpen)
        {
            yield return new(
                "date", "trading_day", $"The site does not trade on {Text(date)}.",
                PlanDates.NextOpen(unit.Calendar, date) is { } open ? $"Give {Text(open)}, the next day on which it does." : "Mend the site's trading days first.");
        }
    }
}
