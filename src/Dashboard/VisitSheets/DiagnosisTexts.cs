using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.VisitSheets;

// What a fault is likely to come from. Clauses on age follow those on visits and end with a full stop.
internal sealed record DiagnosisTexts
{
    internal static TextFile<DiagnosisTexts> File { get; } = new("Diagnosis");

    internal static DiagnosisTexts Now => File.Now;

    public required string SomethingElse { get; init; }

    public required string SomethingElseInside { get; init; }

    public required string OneOrOther { get; init; }

    public required string WhyNoVisits { get; init; }

    public required PluralText WhyFewVisits { get; init; }

    public required string WhyVisits { get; init; }

    public required string AgeNotKnown { get; init; }

    public required PluralText AgeRaises { get; init; }

    public required PluralText AgeLowers { get; init; }

    public required PluralText Age { get; init; }

    public required string HalfFailed { get; init; }

    public required string SomethingElseNoVisits { get; init; }

    public required PluralText SomethingElseVisits { get; init; }

    public required FindingTexts Finding { get; init; }

    // What a result that no cause can give would say.
    public required string CannotCome { get; init; }

    public required EarlierTexts Earlier { get; init; }

    public required FirstCheckTexts First { get; init; }

    public required BringTexts Bring { get; init; }

    public required SheetBasisTexts Basis { get; init; }
}

internal sealed record FindingTexts(
    string SomethingElse, string CertainBeforeChecks, string Certain, string NotCertain, string NotCertainBut, string CheckNext, string Contradiction);

internal sealed record EarlierTexts(string NothingFound, string Found, string OneAndOther, string Checks, string Passed, string Failed);

internal sealed record FirstCheckTexts(string NoCause, string Soonest);

internal sealed record BringTexts(string NoPart, string NoPartBelow, PluralText Parts, PluralText PartsBelow, string ClearedWithout);

internal sealed record SheetBasisTexts(
    string Wear, string Causes, string CountedCauses, string CountedWear, string NoCause, string NoVisit, PluralText LacksACause, string AgeTenfold,
    string RepairMinutes, string NoLifeCurve, string NoPartChange);
