using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Texts of the first page: Today.en.json and its fellows. A name is the text's key.</summary>
internal sealed record TodayTexts
{
    internal static TextFile<TodayTexts> File { get; } = new("Today");

    internal static TodayTexts Now => File.Now;

    public required string Today { get; init; }

    public required string NoUnit { get; init; }

    public required FirstStepsTexts FirstSteps { get; init; }

    public required string Tally { get; init; }

    // These four follow a number.
    public required string LockedOut { get; init; }

    public required string Overdue { get; init; }

    public required string Silent { get; init; }

    public required string InService { get; init; }

    public required string ShownFor { get; init; }

    public required string Everybody { get; init; }

    public required PluralText MoreLines { get; init; }

    public required string AgeOfOne { get; init; }

    public required string AgeOfMany { get; init; }

    public required string FourWeeks { get; init; }

    public required string NothingJudged { get; init; }

    public required string OnTime { get; init; }

    public required string OnTimeLink { get; init; }

    public required string PairsCounted { get; init; }

    public required IReadOnlyDictionary<TodayRole, string> Roles { get; init; }

    public required IReadOnlyDictionary<TodayRole, string> NothingNeeds { get; init; }

    public required IReadOnlyDictionary<TodayRole, PluralText> ThingsNeed { get; init; }

    public required IReadOnlyDictionary<TodayRole, string> LooksAt { get; init; }

    public required UnitLineTexts Units { get; init; }

    public required RepairLineTexts Repairs { get; init; }

    public required ServiceLineTexts Service { get; init; }

    public required PlannerLineTexts Planner { get; init; }

    public required WearingTexts Wearing { get; init; }
}

/// <summary>A line that needs no more than its number.</summary>
internal sealed record LineTexts
{
    public required PluralText Sentence { get; init; }

    public required string Reason { get; init; }

    public required string Action { get; init; }
}

/// <summary>Lines about how ovens stand.</summary>
internal sealed record UnitLineTexts
{
    public required LineTexts WaitsForTechnician { get; init; }

    public required LineTexts LockedOutInWork { get; init; }

    public required LineTexts WaitsForPart { get; init; }

    public required LineTexts NoVisitAsked { get; init; }

    public required LineTexts StoppedByFault { get; init; }

    public required LineTexts OverdueInWork { get; init; }

    public required LineTexts WashedSince { get; init; }

    public required LineTexts NobodyStarted { get; init; }

    public required LineTexts ToDescale { get; init; }

    public required LineTexts StoppedByPerson { get; init; }

    public required LineTexts WashDidNotCount { get; init; }

    public required LineTexts OtherCause { get; init; }

    // Within a sentence.
    public required IReadOnlyDictionary<Cause, string> Causes { get; init; }

    public required LineTexts Silent { get; init; }

    public required string SeeAll { get; init; }

    public required string NeverHeard { get; init; }
}

/// <summary>Lines about repairs and approvals.</summary>
internal sealed record RepairLineTexts
{
    public required LineTexts Granted { get; init; }

    public required string SheetOf { get; init; }

    public required PluralText WaitsForApproval { get; init; }

    public required string Asked { get; init; }

    public required string Decide { get; init; }

    public required PluralText InDoubt { get; init; }

    public required string InDoubtSays { get; init; }

    public required PluralText NotProven { get; init; }

    public required string NotProvenSays { get; init; }

    public required string SeeOven { get; init; }

    public required string SeeEach { get; init; }
}

/// <summary>Lines for whoever manages the service.</summary>
internal sealed record ServiceLineTexts
{
    public required string BehindIt { get; init; }

    public required PluralText Worse { get; init; }

    public required string WorseSays { get; init; }

    public required string NewestFirst { get; init; }

    public required string SeeWashes { get; init; }

    public required LineTexts Refused { get; init; }

    public required PluralText Rows { get; init; }
}

/// <summary>Lines for whoever plans.</summary>
internal sealed record PlannerLineTexts
{
    public required PluralText Visits { get; init; }

    // By the number of parts.
    public required PluralText VisitsSay { get; init; }

    public required string OpenPlan { get; init; }

    public required LineTexts Due { get; init; }

    public required string DueOn { get; init; }

    public required LineTexts Stock { get; init; }

    public required string Order { get; init; }

    public required string OrderFor { get; init; }

    public required LineTexts Wearing { get; init; }
}

/// <summary>Fitted parts that are likely to fail.</summary>
internal sealed record WearingTexts
{
    public required string Heading { get; init; }

    public required string Nothing { get; init; }

    public required string NothingLink { get; init; }

    public required string Caption { get; init; }

    public required string Part { get; init; }

    public required string Unit { get; init; }

    public required string Age { get; init; }

    public required string Chance { get; init; }

    public required string ToRead { get; init; }

    public required string Sentence { get; init; }
}

/// <summary>What to do first where no unit is on record.</summary>
internal sealed record FirstStepsTexts
{
    public required string Heading { get; init; }

    public required string NotYours { get; init; }

    public required FirstStepTexts Registry { get; init; }

    public required FirstStepTexts Rules { get; init; }

    public required FirstStepTexts Records { get; init; }

    public required FirstStepTexts People { get; init; }

    public required string Help { get; init; }
}

/// <summary>One of the first steps.</summary>
internal sealed record FirstStepTexts
{
    public required string Heading { get; init; }

    public required string Says { get; init; }

    public required string Do { get; init; }
}
