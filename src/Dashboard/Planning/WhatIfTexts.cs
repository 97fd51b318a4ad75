using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Texts of the page that tries other costs.</summary>
internal sealed record WhatIfTexts
{
    internal static TextFile<WhatIfTexts> File { get; } = new("WhatIf");

    internal static WhatIfTexts Now => File.Now;

    public required string Title { get; init; }
    public required string Question { get; init; }
    public required string SideBySide { get; init; }
    public required PluralText Caption { get; init; }
    public required PluralText Over { get; init; }
    public required string AsItIs { get; init; }
    public required string AsItWouldBe { get; init; }
    public required string Difference { get; init; }
    public required WhatIfLinesTexts Lines { get; init; }
    public required WhatIfHelpTexts Help { get; init; }
    public required string Otherwise { get; init; }
    public required string Instead { get; init; }
    public required WhatIfVerdictsTexts Verdicts { get; init; }
    public required string NotSaved { get; init; }
    public required WhatIfFormTexts Form { get; init; }
    public required WhatIfFindingTexts Finding { get; init; }
}

internal sealed record WhatIfLinesTexts
{
    public required string Visits { get; init; }
    public required string Jobs { get; init; }
    public required string PlannedCost { get; init; }
    public required string Failures { get; init; }
    public required string Unwashed { get; init; }
    public required string FailureCost { get; init; }
    public required string Cost { get; init; }
}

internal sealed record WhatIfHelpTexts
{
    public required string Failures { get; init; }
    public required string Unwashed { get; init; }
    public required string Cost { get; init; }
}

internal sealed record WhatIfVerdictsTexts
{
    public required string InTime { get; init; }
    public required string AtDays { get; init; }
    public required string Run { get; init; }
    public required string Unknown { get; init; }
}

internal sealed record WhatIfFormTexts
{
    public required string Try { get; init; }
    public required string Note { get; init; }
    public required string AtPosition { get; init; }
    public required string Position { get; init; }
    public required string None { get; init; }
    public required string NoSupplier { get; init; }
    public required string PartPrice { get; init; }
    public required string PlannedCost { get; init; }
    public required string FailureCost { get; init; }
    public required string ReplaceAt { get; init; }
    public required string Never { get; init; }
    public required string ForAll { get; init; }
    public required string HourPrice { get; init; }
    public required string Weeks { get; init; }
    public required string Supplier { get; init; }
    public required string SupplierNow { get; init; }
    public required string LeadTime { get; init; }
    public required string Compare { get; init; }
}

internal sealed record WhatIfFindingTexts
{
    public required string NoChange { get; init; }
    public required PluralText Changes { get; init; }
    public required string Totals { get; init; }
    public required string TotalsAtNewPrice { get; init; }
}
