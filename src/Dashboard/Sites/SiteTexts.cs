using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Sites;

internal sealed record SiteTexts
{
    internal static TextFile<SiteTexts> File { get; } = new("Sites");

    internal static SiteTexts Now => File.Now;

    public required SiteListTexts List { get; init; }

    public required KitchenPageTexts Page { get; init; }

    public required IReadOnlyDictionary<KitchenTask, string> Tasks { get; init; }

    public required CareTexts Care { get; init; }

    public required KitchenClockTexts Clock { get; init; }

    public required KitchenWordTexts Words { get; init; }

    // A wash that a further rule asks for.
    public required IReadOnlyDictionary<ProgrammeGrade, string> Washes { get; init; }
}

internal sealed record SiteListTexts
{
    public required string Title { get; init; }

    public required string Operators { get; init; }

    public required PluralText OnRecord { get; init; }

    public required PluralText Matches { get; init; }

    public required string SearchFor { get; init; }

    public required string Find { get; init; }

    public required string NoneOnRecord { get; init; }

    public required string WhatToSend { get; init; }

    public required string NoMatch { get; init; }

    public required string AllKitchens { get; init; }

    public required string Caption { get; init; }

    public required string Kitchen { get; init; }

    public required string Operator { get; init; }

    public required string Region { get; init; }

    public required string Ovens { get; init; }

    public required string HowTheyStand { get; init; }

    public required string NoOven { get; init; }

    public required string Kitchens { get; init; }

    public required string Method { get; init; }
}

internal sealed record KitchenPageTexts
{
    public required string OwnTime { get; init; }

    public required string NoOven { get; init; }

    public required string AllKitchens { get; init; }

    public required string NextWash { get; init; }

    public required string Also { get; init; }

    public required string LastWash { get; init; }

    public required string Ask { get; init; }

    public required string UntilThen { get; init; }

    public required string ByHand { get; init; }

    public required string Fortnight { get; init; }

    public required string Tick { get; init; }

    public required string Print { get; init; }

    public required string Boxes { get; init; }

    public required string Oven { get; init; }

    public required string Closed { get; init; }

    public required string WhatHappened { get; init; }

    public required string AllOfIt { get; init; }

    public required string InFigures { get; init; }

    public required string PlannedWork { get; init; }

    public required string Method { get; init; }
}

internal sealed record CareTexts
{
    public required string Heading { get; init; }

    public required string Burns { get; init; }

    public required string BurnsLead { get; init; }

    public required string Scalds { get; init; }

    public required string ScaldsLead { get; init; }

    public required string Touched { get; init; }

    public required string TouchedLead { get; init; }

    public required string Left { get; init; }

    public required string LeftLead { get; init; }

    public required string Panels { get; init; }

    public required string PanelsLead { get; init; }

    public required string MakerFirst { get; init; }
}

internal sealed record KitchenClockTexts
{
    public required string Today { get; init; }

    public required string ThisEvening { get; init; }

    public required string Tonight { get; init; }

    public required string Tomorrow { get; init; }

    public required string TomorrowEvening { get; init; }

    public required string TomorrowNight { get; init; }

    public required string WeekdayEvening { get; init; }

    public required string WeekdayNight { get; init; }

    public required string Yesterday { get; init; }

    public required string LastEvening { get; init; }

    public required string LastNight { get; init; }

    public required string Midnight { get; init; }

    public required string Before { get; init; }

    public required string BeforeDated { get; init; }

    public required string At { get; init; }
}

internal sealed record KitchenWordTexts
{
    public required string WashIt { get; init; }

    public required string DescaleIt { get; init; }

    public required string Due { get; init; }

    public required string Silent { get; init; }

    public required string SilentSince { get; init; }

    public required string Closed { get; init; }

    public required string OutOfService { get; init; }

    public required string Nothing { get; init; }

    public required string NoPlan { get; init; }

    public required string WashBy { get; init; }

    public required string StoppedByFault { get; init; }

    public required string WorkedOn { get; init; }

    public required string StoppedByPerson { get; init; }

    public required string DetergentLeft { get; init; }

    public required string TooLight { get; init; }

    public required string TooLightProgramme { get; init; }

    public required string NotKnown { get; init; }

    public required string Late { get; init; }

    public required string StillReports { get; init; }

    public required string TechnicianAsked { get; init; }

    public required string TechnicianAskedSince { get; init; }

    public required string WaitsForYes { get; init; }

    public required string WaitsForYesSince { get; init; }

    public required string WaitsForPart { get; init; }

    public required string NobodyAsked { get; init; }

    public required string NobodyAskedSince { get; init; }

    public required string NoneKnown { get; init; }

    public required string Now { get; init; }

    public required string WhenPlanAsks { get; init; }

    public required string NextProgramme { get; init; }

    public required string Either { get; init; }

    public required string Also { get; init; }

    public required string AskService { get; init; }

    public required string AskServiceFirst { get; init; }

    public required string AskNobody { get; init; }

    public required string AskManager { get; init; }

    public required string AskForPart { get; init; }

    public required string AskNetwork { get; init; }

    public required string NoOven { get; init; }

    public required PluralText OfOvens { get; init; }

    public required PluralText WashNow { get; init; }

    public required PluralText Wait { get; init; }

    public required PluralText NotHeard { get; init; }

    public required PluralText WashToday { get; init; }
}
