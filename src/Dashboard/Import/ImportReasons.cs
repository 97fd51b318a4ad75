namespace Washwear.Dashboard.Import;

/// <summary>Why a column is taken for a field, or for none. Words in braces are values that its text takes.</summary>
public enum ImportWhy
{
    /// <summary>A mapping was given and says so.</summary>
    MappingSays,

    /// <summary>A mapping was given and does not name the column.</summary>
    MappingNamesNot,

    /// <summary>It is the only column of dates.</summary>
    OnlyDates,

    /// <summary>It is empty.</summary>
    Empty,

    /// <summary>Neither heading nor cells tell.</summary>
    NothingTells,

    /// <summary>Another column is taken for the {field}; {heading} is that one.</summary>
    TakenByOther,

    /// <summary>The heading is a known one.</summary>
    HeadingSays,

    /// <summary>The heading is close to a known one.</summary>
    HeadingClose,

    /// <summary>The cells look like it.</summary>
    CellsLook,

    /// <summary>Few cells fit; {cells} says which.</summary>
    FewCells,

    /// <summary>No cell fits.</summary>
    NoneFits,

    /// <summary>Cells are dates: {some} of {all}.</summary>
    Dates,

    /// <summary>Cells are times of day: {some} of {all}.</summary>
    TimesOfDay,

    /// <summary>Cells are numbers: {some} of {all}.</summary>
    Numbers,

    /// <summary>Cells are known words: {some} of {all}.</summary>
    KnownWords,

    /// <summary>Cells are known codes: {some} of {all}.</summary>
    KnownCodes,

    /// <summary>All cells are dates, which the field does not want.</summary>
    CellsAreDates,
}

/// <summary>What has to be answered before rows can be taken in as they are meant. Words in braces are values that its text takes.</summary>
public enum ImportAsk
{
    /// <summary>The mapping names a column that is not there: {heading}.</summary>
    ColumnGone,

    /// <summary>No column holds a required {field}; {help} explains it.</summary>
    NoColumn,

    /// <summary>Several {columns} hold one {field}.</summary>
    Twice,

    /// <summary>Day or month first in {date}.</summary>
    DateOrder,

    /// <summary>Thousands or a fraction in {number}.</summary>
    DecimalMark,

    /// <summary>There is no such {zone}.</summary>
    TimeZone,

    /// <summary>What a {word} means as {field}.</summary>
    Word,

    /// <summary>A part change says neither out nor in.</summary>
    OutOrIn,

    /// <summary>A meter without a reading.</summary>
    NoReading,

    /// <summary>A visit without a time.</summary>
    NoVisitTime,
}

/// <summary>What was decided beside the columns, or found out about the file. Words in braces are values that its text takes.</summary>
public enum ImportNote
{
    /// <summary>Day first, proven by {date}.</summary>
    DayFirstProven,

    /// <summary>Month first, proven by {date}.</summary>
    MonthFirstProven,

    /// <summary>Day first, as {date} has points.</summary>
    DayFirstByPoints,

    /// <summary>Month first, as {date} has points.</summary>
    MonthFirstByPoints,

    /// <summary>Day first, as was said.</summary>
    DayFirstSaid,

    /// <summary>Month first, as was said.</summary>
    MonthFirstSaid,

    /// <summary>The order contradicts {date}.</summary>
    OtherOrder,

    /// <summary>Cells of {heading} are dates and texts.</summary>
    MixedDates,

    /// <summary>Numbers in columns of dates, such as {number}, are days of a spreadsheet's calendar: {date}.</summary>
    SerialDates,

    /// <summary>Times are of {zone}.</summary>
    ZoneGiven,

    /// <summary>Times are of each unit's site.</summary>
    ZoneOfSite,

    /// <summary>A date alone is noon.</summary>
    Noon,

    /// <summary>A date alone is noon; an end without a time is left out.</summary>
    NoonNoEnd,

    /// <summary>A comma before the fraction.</summary>
    Comma,

    /// <summary>A point before the fraction.</summary>
    Point,

    /// <summary>No column holds a key.</summary>
    NoKey,

    /// <summary>Columns that are left out: {columns}.</summary>
    LeftOut,

    /// <summary>Some {columns} of many that are left out.</summary>
    LeftOutMore,

    /// <summary>Rows that are notes: {count}.</summary>
    NoteRows,

    /// <summary>The {row} of the headings.</summary>
    HeadingRow,

    /// <summary>CSV in UTF-8 with a {separator}.</summary>
    Csv,

    /// <summary>CSV in another encoding with a {separator}.</summary>
    CsvWestern,

    /// <summary>The file is not UTF-8.</summary>
    NotUtf8,

    /// <summary>A workbook of one {sheet}.</summary>
    Workbook,

    /// <summary>A workbook of {count} sheets of which {sheet} is read.</summary>
    WorkbookOfSeveral,

    /// <summary>Dates count from 1904.</summary>
    From1904,

    /// <summary>Joined cells: {count}.</summary>
    Joined,
}
