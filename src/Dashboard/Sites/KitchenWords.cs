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
            CleaningState.Due => Do(facts) + " now. It was due " + At(row.DueAt, facts) + ".",
            CleaningState.Overdue => Overdue(row, facts),
            CleaningState.LockedOut => LockedOut(row, facts),
            CleaningState.Silent => "We hear nothing from it" + Since(row.Since, facts) + ". Check plug and network. Keep washing it as usual.",
            CleaningState.Closed => "The kitchen is closed. Nothing to do now.",
            CleaningState.OutOfService => "Out of service. Nothing to do.",
            _ => throw new ArgumentOutOfRangeException(nameof(row), row.State, "A state without words."),
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
        return row.LastCountedWashAt is null ? "None is known" : Text.Capital(At(row.LastCountedWashAt, facts));
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
            "kitchen" when row.State == CleaningState.LockedOut => facts.AskedAt is null ? "The service firm: nobody has asked them yet" : "The service firm",
            "kitchen" => "Nobody: it is for you to wash it",
            "service" => "The service firm",
            "approver" => "Your manager: the repair waits for a yes",
            "supplier" => "The service firm: they wait for the part",
            "connection" => "Whoever looks after your network",
            _ => null,
        };
    }

    /// <summary>What there is to do in a kitchen.</summary>
    /// <param name="units">Its units.</param>
    /// <returns>One sentence, the most pressing first.</returns>
    public static string Sentence(IReadOnlyList<KitchenUnit> units)
    {
        ArgumentNullException.ThrowIfNull(units);
        (KitchenTask Task, string One, string Many)[] words =
        [
            (KitchenTask.WashNow, "to wash now", "to wash now"),
            (KitchenTask.Wait, "cannot wash and waits for somebody", "cannot wash and wait for somebody"),
            (KitchenTask.LookAtPlug, "is not heard from", "are not heard from"),
            (KitchenTask.WashToday, "to wash today", "to wash today"),
        ];
        string[] parts =
        [
            .. words.Select(word => (word, Count: units.Count(unit => unit.Task == word.Task))).Where(pair => pair.Count > 0)
                .Select(pair => Text.Count(pair.Count) + " " + (pair.Count == 1 ? pair.word.One : pair.word.Many)),
        ];
        return units.Count == 0 ? "No oven of this kitchen is on record."
            : parts.Length == 0 ? "Nothing to do now."
            : "Of " + Text.Counted(units.Count, "oven") + ": " + string.Join("; ", parts) + ".";
    }

    private static string InOrder(UnitCleaning row, KitchenFacts facts) =>
        IsDueToday(row, facts) ? Do(facts) + " " + By(row, facts, withDate: false) + "." : "Nothing to do now.";

    private static string Overdue(UnitCleaning row, KitchenFacts facts) => row.Cause switch
    {
        Cause.StoppedByFault => "The last wash broke off with a fault. Ask for a technician.",
        Cause.BeingWorkedOn => "A technician is working on it. Do not start it until the technician says so.",
        Cause.StoppedByPerson => Do(facts) + " now and let it run to the end. Last time it was stopped.",
        Cause.WashDidNotCount => facts.LastTry switch
        {
            WashDayKind.DetergentLeft => "Detergent was left in. Rinse it out and wash again.",
            WashDayKind.LowerGrade => "The last wash was too light. Wash it again now" + Programme(facts) + ".",
            _ => "Nobody knows how the last wash ended. Wash it again now.",
        },
        _ => Do(facts) + " now. It is late by " + Text.Duration(row.OverdueHours) + ".",
    };

    private static string LockedOut(UnitCleaning row, KitchenFacts facts) => row.Cause switch
    {
        _ when WashesAgain(row, facts) => InOrder(row, facts) + " It still reports a fault: ask the service firm whether that is mended.",
        Cause.LockoutWaitingTechnician => "Cannot wash: a technician has been asked for" + Since(facts.AskedAt, facts) + ".",
        Cause.LockoutWaitingApproval => "Cannot wash: the repair waits for a yes" + Since(facts.AskedAt, facts) + ".",
        Cause.LockoutWaitingPart => "Cannot wash: the repair waits for a part.",
        Cause.BeingWorkedOn => "A technician is working on it. Do not start it until the technician says so.",
        _ when facts.AskedAt is { } asked => "Cannot wash: a technician has been asked for" + Since(asked, facts) + ".",
        _ => "Cannot wash" + Since(row.Since, facts) + ". Nobody has been asked yet: ask for a technician now.",
    };

    /// <summary>A wash that another rule asks for.</summary>
    /// <param name="row">How the unit stands under that rule.</param>
    /// <param name="facts">What else is known.</param>
    /// <returns>Such as 'Intensive wash: Friday night before 02:00 (Sat 28 Nov), programme B'; null where none is due.</returns>
    public static string? Also(UnitCleaning row, KitchenFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        string name = facts.Grade == ProgrammeGrade.Descale ? "Descale" : Text.Words(facts.Grade.ToString()) + " wash";
        return Next(row, facts) is { } next ? name + ": " + next : null;
    }

    // A unit that cannot wash is given no time by which to.
    private static string? Next(UnitCleaning row, KitchenFacts facts) =>
        row.DueAt is not { } due || Task(row, facts) == KitchenTask.Wait || row.State == CleaningState.OutOfService ? null
            : (due <= facts.AsOf.ToDateTimeOffset() ? "now" : By(row, facts)) + Programme(facts);

    // It has run a full wash since the fault that should have kept it from washing: the report that it was mended is missing.
    private static bool WashesAgain(UnitCleaning row, KitchenFacts facts) =>
        row.State == CleaningState.LockedOut && row.LastCountedWashAt > row.Since && row.OverdueHours <= 0 && facts.LastTry == WashDayKind.Counted;

    private static string Do(KitchenFacts facts) => facts.Grade == ProgrammeGrade.Descale ? "Descale it" : "Wash it";

    private static bool IsDueToday(UnitCleaning row, KitchenFacts facts) =>
        row.DueAt is { } due && Instant.FromDateTimeOffset(due) <= facts.Calendar.DayOf(facts.AsOf).End;

    private static string Programme(KitchenFacts facts) =>
        facts.Programmes.Count == 0 ? string.Empty : ", programme " + string.Join(" or ", facts.Programmes);

    private static string By(UnitCleaning row, KitchenFacts facts, bool withDate = true) => row.DueAt is { } due
        ? KitchenClock.Before(Instant.FromDateTimeOffset(due), facts.AsOf, facts.Calendar, withDate)
        : "when the plan asks";

    private static string At(DateTimeOffset? at, KitchenFacts facts) => at is { } known
        ? KitchenClock.At(Instant.FromDateTimeOffset(known), facts.AsOf, facts.Calendar)
        : Text.NotKnown;

    private static string Since(DateTimeOffset? at, KitchenFacts facts) => Since(at is { } known ? Instant.FromDateTimeOffset(known) : null, facts);

    private static string Since(Instant? at, KitchenFacts facts) =>
        at is { } known ? " since " + KitchenClock.Day(known, facts.AsOf, facts.Calendar) : string.Empty;
}
