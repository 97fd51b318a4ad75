using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Import;

/// <summary>Texts of the pages on which spreadsheets come in.</summary>
internal sealed record ImportTexts
{
    internal static TextFile<ImportTexts> File { get; } = new("Import");

    internal static ImportTexts Now => File.Now;

    public required string Import { get; init; }
    public required string ImportFile { get; init; }
    public required string Kicker { get; init; }
    public required ImportFindingTexts Finding { get; init; }
    public required StartTexts Start { get; init; }
    public required StatesTexts States { get; init; }
    public required MapTexts Map { get; init; }
    public required ColumnsTexts Columns { get; init; }
    public required TermsTexts Terms { get; init; }
    public required RowsTexts Rows { get; init; }
    public required SpelledTexts Spelled { get; init; }
    public required string Understood { get; init; }
    public required RunTexts Run { get; init; }
    public required NextTexts Next { get; init; }
}

internal sealed record ImportFindingTexts
{
    public required PluralText Blocked { get; init; }
    public required PluralText None { get; init; }
    public required PluralText All { get; init; }
    public required PluralText Some { get; init; }
}

internal sealed record StartTexts
{
    public required string Title { get; init; }
    public required string Finding { get; init; }
    public required string Lead { get; init; }
    public required string NotKept { get; init; }
    public required string File { get; init; }
    public required string Kind { get; init; }
    public required string Choose { get; init; }
    public required string WhatHappened { get; init; }
    public required string WhoAndWhat { get; init; }
    public required string ReadBy { get; init; }
    public required string Guessed { get; init; }
    public required string SourceName { get; init; }
    public required string Source { get; init; }
    public required string SourceNote { get; init; }
    public required string Look { get; init; }
    public required string YourSheets { get; init; }
    public required PluralText KeptFor { get; init; }
    public required string Templates { get; init; }
    public required string TemplatesNote { get; init; }
    public required string TemplateFor { get; init; }
    public required string Mappings { get; init; }
    public required string Forget { get; init; }
}

internal sealed record StatesTexts
{
    public required string Mapping { get; init; }
    public required PluralText Running { get; init; }
    public required PluralText Stopped { get; init; }
    public required string Failed { get; init; }
    public required PluralText Done { get; init; }
}

internal sealed record MapTexts
{
    public required string ToBeAnswered { get; init; }
    public required string Mind { get; init; }
    public required string WhichFirst { get; init; }
    public required string TheDay { get; init; }
    public required string TheMonth { get; init; }
    public required PluralText TakeIn { get; init; }
    public required string LookAgainAfter { get; init; }
    public required string LookAgain { get; init; }
    public required string Forget { get; init; }
    public required PluralText Doubted { get; init; }
    public required string AllDoubts { get; init; }
    public required string RefusedNote { get; init; }
}

internal sealed record ColumnsTexts
{
    public required string Heading { get; init; }
    public required string Caption { get; init; }
    public required string Head { get; init; }
    public required string Cells { get; init; }
    public required string TakenFor { get; init; }
    public required string Why { get; init; }
    public required string Column { get; init; }
    public required string LeftOut { get; init; }
    public required string Likely { get; init; }
    public required string Required { get; init; }
}

internal sealed record TermsTexts
{
    public required string Words { get; init; }
    public required string AsField { get; init; }
    public required string NotKnown { get; init; }
    public required string ForAll { get; init; }
    public required string WhereNoColumn { get; init; }
    public required string Nothing { get; init; }
    public required string Dates { get; init; }
    public required string DatesProve { get; init; }
    public required string DayFirst { get; init; }
    public required string MonthFirst { get; init; }
    public required string Numbers { get; init; }
    public required string NumbersProve { get; init; }
    public required string Point { get; init; }
    public required string Comma { get; init; }
    public required string TimeZone { get; init; }
    public required string ZoneOfSite { get; init; }
    public required string Sheet { get; init; }
    public required string Remember { get; init; }
    public required string NoName { get; init; }
}

internal sealed record RowsTexts
{
    public required string Heading { get; init; }
    public required PluralText Summary { get; init; }
    public required string Good { get; init; }
    public required string GoodDoubted { get; init; }
    public required PluralText Repeated { get; init; }
    public required string Refused { get; init; }
    public required string RefusedHeading { get; init; }
    public required string DoubtedHeading { get; init; }
    public required string First { get; init; }
    public required PluralText FirstOf { get; init; }
    public required string Row { get; init; }
    public required string Verdict { get; init; }
    public required IReadOnlyDictionary<ImportVerdict, string> Verdicts { get; init; }
    public required PluralText Trouble { get; init; }
    public required string FirstRow { get; init; }
}

internal sealed record SpelledTexts
{
    public required string Heading { get; init; }
    public required string TakenAs { get; init; }
    public required PluralText More { get; init; }
}

internal sealed record RunTexts
{
    public required PluralText Running { get; init; }
    public required PluralText RunningSheet { get; init; }
    public required PluralText Stopped { get; init; }
    public required PluralText Failed { get; init; }
    public required PluralText SomeRefused { get; init; }
    public required PluralText NothingNew { get; init; }
    public required PluralText Done { get; init; }
    public required string Progress { get; init; }
    public required string Renews { get; init; }
    public required string Why { get; init; }
    public required string Stop { get; init; }
    public required string GoOn { get; init; }
    public required PluralText Download { get; init; }
    public required string NextSheet { get; init; }
    public required string ToToday { get; init; }
    public required string Change { get; init; }
    public required string Forget { get; init; }
    public required string Caption { get; init; }
    public required string Rows { get; init; }
    public required string HowMany { get; init; }
    public required string Meaning { get; init; }
    public required string NewOrChanged { get; init; }
    public required string TakenIn { get; init; }
    public required string WithDoubt { get; init; }
    public required string OnDisk { get; init; }
    public required string AsTheyWere { get; init; }
    public required string TakenInBefore { get; init; }
    public required string NothingChanged { get; init; }
    public required string Refused { get; init; }
    public required string None { get; init; }
    public required string Mend { get; init; }
}

internal sealed record NextTexts
{
    public required string Mend { get; init; }
    public required string Send { get; init; }
    public required string AllRefused { get; init; }
    public required string Look { get; init; }
    public required string Units { get; init; }
    public required string Cleaning { get; init; }
    public required string NextSheet { get; init; }
}
