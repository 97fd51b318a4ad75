using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Registry;
using Washwear.Api.Units;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Sites;

namespace Washwear.Api.Sites;

/// <summary>Assembles a kitchen's own page.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">How units stand.</param>
/// <param name="records">Reads the records.</param>
public sealed class KitchenReports(RegistryCache registry, CleaningReports cleaning, CleaningQueries records)
{
    private const int DaysShown = 14;
    private const int DaysToCome = 7;

    /// <summary>What a kitchen has to do.</summary>
    /// <param name="code">Code of the site.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The report; null when there is no such site.</returns>
    public async Task<KitchenReport?> AssembleAsync(string code, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (!snapshot.Sites.TryGetValue(code, out SiteEntry? site))
        {
            return null;
        }

        CleaningFilter filter = CleaningFilter.All with { Site = code };
        IReadOnlyList<UnitTerms> terms = CleaningReports.Select(snapshot, filter, asOf, asOf);
        CleaningStatusReport status = await cleaning.AssembleStatusAsync(filter, asOf, cancellationToken);
        IReadOnlyDictionary<int, UnitHistory> histories = await records.HistoriesAsync(terms, asOf, cancellationToken);
        ILookup<string, UnitCleaning> rows = status.Rows.ToLookup(row => row.Unit, StringComparer.OrdinalIgnoreCase);
        var at = Instant.FromDateTimeOffset(asOf);
        KitchenUnit[] units =
        [
            .. terms.Select(unit => Unit(unit, [.. rows[unit.Unit.Resource.Unit]], histories[unit.Unit.Id], at))
                .OrderBy(unit => unit.Task).ThenBy(unit => unit.Unit, StringComparer.OrdinalIgnoreCase),
        ];
        return new KitchenReport(
            new Basis(asOf, null, null, KitchenWords.Method, null, units.Length, null, status.Basis.Excluded, []),
            site.Resource.Site,
            site.Resource.Name,
            site.Operator.Resource.Operator,
            site.Operator.Resource.Name,
            site.Resource.TimeZone,
            KitchenWords.Sentence(units),
            units,
            terms.Count == 0 ? [] : Coming(terms[0].Calendar, at));
    }

    private static KitchenUnit Unit(UnitTerms unit, UnitCleaning[] rows, UnitHistory history, Instant asOf)
    {
        IReadOnlyList<Dashboard.Units.WashDay> days = WashDays.Of(unit, history, asOf, DaysShown);
        UnitCleaning[] worstFirst = [.. rows.OrderBy(row => CleaningReports.UrgencyOf(row.State)).ThenBy(row => row.Grade == ProgrammeGrade.Descale).ThenBy(row => row.DueAt ?? DateTimeOffset.MaxValue)];
        (string tag, string model) = (unit.Unit.Resource.Unit, unit.Unit.Model.Resource.Name);
        if (worstFirst.Length == 0)
        {
            return new KitchenUnit(
                tag, model, KitchenTask.Nothing, null, KitchenWords.NoPlan, string.Empty, null, null, "nobody", null, [], days);
        }

        UnitCleaning row = worstFirst[0];
        KitchenFacts facts = Facts(unit, row, history, asOf);
        return new KitchenUnit(
            tag,
            model,
            KitchenWords.Task(row, facts),
            row.State,
            KitchenWords.ToDo(row, facts),
            KitchenWords.Washed(worstFirst.FirstOrDefault(one => one.Grade != ProgrammeGrade.Descale) ?? row, facts),
            KitchenWords.NextWash(row, facts),
            row.DueAt,
            row.WhoseMove,
            KitchenWords.AskWhom(row, facts),
            [.. worstFirst.Skip(1).Select(other => KitchenWords.Also(other, Facts(unit, other, history, asOf))).OfType<string>()],
            days);
    }

    private static KitchenFacts Facts(UnitTerms unit, UnitCleaning row, UnitHistory history, Instant asOf)
    {
        ProgrammeGrade grade = unit.Rules.First(rule => string.Equals(rule.Entry.Resource.Rule, row.Rule, StringComparison.OrdinalIgnoreCase)).Rule.Grade;
        return new KitchenFacts(
            asOf,
            unit.Calendar,
            history.Washes.Where(wash => wash.DecidedAt <= asOf).OrderByDescending(wash => wash.DecidedAt)
                .Select(wash => WashDays.KindOf(wash, grade)).FirstOrDefault(kind => kind is not null),
            AskedAt(row.Cause, history, asOf),
            grade,
            [
                .. unit.Unit.Model.Resource.Programmes.Where(programme => programme.Grade.Satisfies(grade))
                    .OrderBy(programme => programme.Grade).Select(programme => programme.Programme),
            ]);
    }

    // Since when the visit or the decision is waited for.
    private static Instant? AskedAt(Cause cause, UnitHistory history, Instant asOf) => cause == Cause.LockoutWaitingApproval
        ? history.Approvals.Where(approval => approval.DecidedAt is null && approval.AskedAt <= asOf).Max(approval => approval.AskedAt)
        : history.Visits.Where(visit => visit.LeftAt is null && visit.AskedAt <= asOf).Max(visit => visit.AskedAt);

    private static KitchenDay[] Coming(SiteCalendar calendar, Instant asOf)
    {
        LocalDate first = calendar.DayOf(asOf).Date;
        return [.. Enumerable.Range(0, DaysToCome).Select(ahead => calendar.Day(first.PlusDays(ahead))).Select(day => new KitchenDay(day.Date.ToDateOnly(), day.IsOpen))];
    }
}
