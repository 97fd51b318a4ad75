using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Sites;

/// <summary>What is known about a unit beyond its state, for the words of its kitchen.</summary>
/// <param name="AsOf">The instant.</param>
/// <param name="Calendar">When the site trades.</param>
/// <param name="LastTry">What the last try to wash came to; null: none is known.</param>
/// <param name="AskedAt">When the visit or decision that it waits for was asked for; null: not known.</param>
/// <param name="Grade">Grade that the rule asks for.</param>
/// <param name="Programmes">Names of the programmes that count; empty: not known.</param>
public sealed record KitchenFacts(
    Instant AsOf, SiteCalendar Calendar, WashDayKind? LastTry, Instant? AskedAt, ProgrammeGrade Grade, IReadOnlyList<string> Programmes);

/// <summary>A unit's state in the words of a kitchen: what to do, by when on its own wall clock, whom to ask.</summary>
public static class KitchenWords
{
    private static KitchenWordTexts Texts => SiteTexts.Now.Words;

    /// <summary>How pressing a unit is.</summary>
    /// <param name="row">How it stands.</param>
    /// <param name="facts">What else is known.</param>
    /// <returns>The task.</returns>
    public static KitchenTask Task(UnitCleaning row, KitchenFacts facts)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(facts);
        return row.State switch
        {
            CleaningState.Due => KitchenTask.WashNow,
            CleaningState.Overdue => row.Cause is Cause.StoppedByFault or Cause.BeingWorkedOn ? KitchenTask.Wait : KitchenTask.WashNow,
            CleaningState.LockedOut when !WashesAgain(row, facts) => KitchenTask.Wait,
            CleaningState.Silent => KitchenTask.LookAtPlug,
            CleaningState.Clean or CleaningState.LockedOut when IsDueToday(row, facts) => KitchenTask.WashToday,
            _ => KitchenTask.Nothing,
        };
    }

    /// <summary>What to do about a unit.</summary>
    /// <param name="row">How it stands.</param>
    /// <param name="facts">What else is known.</param>
    /// <returns>One to three short sentences.</returns>
    public static string ToDo(UnitCleaning row, KitchenFacts facts)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(facts);
        return row.State switch
        {
            CleaningState.Clean => InOrder(row, facts),
            CleaningState.Due => Fill.In(Texts.Due, WashIt(facts), ("at", At(row.DueAt, facts))),
            CleaningState.Overdue => Overdue(row, facts),
            CleaningState.LockedOut => LockedOut(row, facts),
            CleaningState.Silent => Since(Texts.Silent, Texts.SilentSince, InstantOf(row.Since), facts),
            CleaningState.Closed => Texts.Closed,
            CleaningState.OutOfService => Texts.OutOfService,
            _ => throw new ArgumentOutOfRangeException(nameof(row), row.State, null),
        };
    }

    /// <summary>When a unit was last washed.</summary>
    /// <param name="row">How it stands.</param>
    /// <param name="facts">What else is known.</param>
    /// <returns>Such as 'Last night at 23:10'.</returns>
    public static string Washed(UnitCleaning row, KitchenFacts facts)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(facts);
        return row.LastCountedWashAt is null ? Texts.NoneKnown : Text.Capital(At(row.LastCountedWashAt, facts));
    }

    /// <summary>When the next wash is due.</summary>
    /// <param name="row">How the unit stands.</param>
    /// <param name="facts">What else is known.</param>
    /// <returns>Such as 'tonight before 02:00 (Thu 27 Nov), programme A or B'; null where none is due or it is due already.</returns>
    public static string? NextWash(UnitCleaning row, KitchenFacts facts)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(facts);
        return Next(row, facts) is { } next ? Text.Capital(next) : null;
    }

    /// <summary>Whom to ask about a unit.</summary>
    /// <param name="row">How it stands.</param>
    /// <param name="facts">What else is known.</param>
    /// <returns>A few words; null: nobody.</returns>
    public static string? AskWhom(UnitCleaning row, KitchenFacts facts)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(facts);
        return row.WhoseMove switch
        {
            "kitchen" when row.State == CleaningState.LockedOut => facts.AskedAt is null ? Texts.AskServiceFirst : Texts.AskService,
            "kitchen" => Texts.AskNobody,
            "service" => Texts.AskService,
            "approver" => Texts.AskManager,
            "supplier" => Texts.AskForPart,
            "connection" => Texts.AskNetwork,
            _ => null,
        };
    }

    /// <summary>What there is to do in a kitchen.</summary>
    /// <param name="units">Its units.</param>
    /// <returns>One sentence, the most pressing first.</returns>
    public static string Sentence(IReadOnlyList<KitchenUnit> units)
    {
        ArgumentNullException.ThrowIfNull(units);
        (KitchenTask Task, PluralText Words)[] tasks =
        [
            (KitchenTask.WashNow, Texts.WashNow), (KitchenTask.Wait, Texts.Wait), (KitchenTask.LookAtPlug, Texts.NotHeard), (KitchenTask.WashToday, Texts.WashToday),
        ];
        string[] parts =
        [
            .. tasks.Select(one => (one.Words, Count: units.Count(unit => unit.Task == one.Task))).Where(one => one.Count > 0)
                .Select(one => one.Words.For(one.Count)),
        ];
        return units.Count == 0 ? Texts.NoOven
            : parts.Length == 0 ? Texts.Nothing
            : Texts.OfOvens.For(units.Count, ("parts", string.Join("; ", parts)));
    }

    /// <summary>A task in two or three words.</summary>
    /// <param name="task">The task.</param>
    public static string Name(KitchenTask task) => SiteTexts.Now.Tasks[task];

    /// <summary>What to do about a unit under no rule.</summary>
    public static string NoPlan => Texts.NoPlan;

    /// <summary>How a kitchen's page comes about.</summary>
    public static string Method => SiteTexts.Now.Page.Method;

    /// <summary>How kitchens are found.</summary>
    public static string ListMethod => SiteTexts.Now.List.Method;

    private static string InOrder(UnitCleaning row, KitchenFacts facts) =>
        IsDueToday(row, facts) ? Fill.In(Texts.WashBy, WashIt(facts), ("when", By(row, facts, withDate: false))) : Texts.Nothing;

    private static string Overdue(UnitCleaning row, KitchenFacts facts) => row.Cause switch
    {
        Cause.StoppedByFault => Texts.StoppedByFault,
        Cause.BeingWorkedOn => Texts.WorkedOn,
        Cause.StoppedByPerson => Fill.In(Texts.StoppedByPerson, WashIt(facts)),
        Cause.WashDidNotCount => facts.LastTry switch
        {
            WashDayKind.DetergentLeft => Texts.DetergentLeft,
            WashDayKind.LowerGrade => facts.Programmes.Count == 0
                ? Texts.TooLight
                : Fill.In(Texts.TooLightProgramme, ("programmes", Programmes(facts))),
            _ => Texts.NotKnown,
        },
        _ => Fill.In(Texts.Late, WashIt(facts), ("time", Text.DurationAfter(row.OverdueHours))),
    };

    private static string LockedOut(UnitCleaning row, KitchenFacts facts) => row.Cause switch
    {
        _ when WashesAgain(row, facts) => Fill.In(Texts.StillReports, ("to_do", InOrder(row, facts))),
        Cause.LockoutWaitingTechnician => Since(Texts.TechnicianAsked, Texts.TechnicianAskedSince, facts.AskedAt, facts),
        Cause.LockoutWaitingApproval => Since(Texts.WaitsForYes, Texts.WaitsForYesSince, facts.AskedAt, facts),
        Cause.LockoutWaitingPart => Texts.WaitsForPart,
        Cause.BeingWorkedOn => Texts.WorkedOn,
        _ when facts.AskedAt is { } asked => Since(Texts.TechnicianAsked, Texts.TechnicianAskedSince, asked, facts),
        _ => Since(Texts.NobodyAsked, Texts.NobodyAskedSince, InstantOf(row.Since), facts),
    };

    /// <summary>A wash that another rule asks for.</summary>
    /// <param name="row">How the unit stands under that rule.</param>
    /// <param name="facts">What else is known.</param>
    /// <returns>Such as 'Intensive wash: Friday night before 02:00 (Sat 28 Nov), programme B'; null where none is due.</returns>
    public static string? Also(UnitCleaning row, KitchenFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return Next(row, facts) is { } next ? Fill.In(Texts.Also, ("wash", SiteTexts.Now.Washes[facts.Grade]), ("next", next)) : null;
    }

    // A unit that cannot wash is given no time by which to.
    private static string? Next(UnitCleaning row, KitchenFacts facts)
    {
        if (row.DueAt is not { } due || Task(row, facts) == KitchenTask.Wait || row.State == CleaningState.OutOfService)
        {
            return null;
        }

        string when = due <= facts.AsOf.ToDateTimeOffset() ? Texts.Now : By(row, facts);
        return facts.Programmes.Count == 0 ? when : Fill.In(Texts.NextProgramme, ("when", when), ("programmes", Programmes(facts)));
    }

    // It has run a full wash since the fault that should have kept it from washing: the report that it was mended is missing.
    private static bool WashesAgain(UnitCleaning row, KitchenFacts facts) =>
        row.HasWashedSince && row.OverdueHours <= 0 && facts.LastTry == WashDayKind.Counted;

    private static (string Name, string Words) WashIt(KitchenFacts facts) =>
        ("wash_it", facts.Grade == ProgrammeGrade.Descale ? Texts.DescaleIt : Texts.WashIt);

    private static bool IsDueToday(UnitCleaning row, KitchenFacts facts) =>
        row.DueAt is { } due && Instant.FromDateTimeOffset(due) <= facts.Calendar.DayOf(facts.AsOf).End;

    private static string Programmes(KitchenFacts facts) =>
        facts.Programmes.Aggregate((one, other) => Fill.In(Texts.Either, ("one", one), ("other", other)));

    private static string By(UnitCleaning row, KitchenFacts facts, bool withDate = true) => row.DueAt is { } due
        ? KitchenClock.Before(Instant.FromDateTimeOffset(due), facts.AsOf, facts.Calendar, withDate)
        : Texts.WhenPlanAsks;

    private static string At(DateTimeOffset? at, KitchenFacts facts) => at is { } known
        ? KitchenClock.At(Instant.FromDateTimeOffset(known), facts.AsOf, facts.Calendar)
        : Text.NotKnown;

    private static string Since(string text, string sinceDay, Instant? at, KitchenFacts facts) =>
        at is { } known ? Fill.In(sinceDay, ("day", KitchenClock.Day(known, facts.AsOf, facts.Calendar))) : text;

    private static Instant? InstantOf(DateTimeOffset? at) => at is { } known ? Instant.FromDateTimeOffset(known) : null;
}
