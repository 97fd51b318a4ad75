using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Import;

/// <summary>A kind of rows that may be imported.</summary>
/// <param name="Name">Its name.</param>
/// <param name="IsRegistry">Whether it says who and what there is.</param>
public sealed record ImportKindChoice(string Name, bool IsRegistry);

/// <summary>A sheet that the reader sent.</summary>
/// <param name="Id">Its number.</param>
/// <param name="FileName">Name of its file.</param>
/// <param name="Kind">Name of the kind of its rows.</param>
/// <param name="State">mapping, running, stopped, done or failed.</param>
/// <param name="At">When it was touched last.</param>
/// <param name="RowsDone">Rows dealt with.</param>
public sealed record ImportedSheet(long Id, string FileName, string Kind, string State, DateTimeOffset At, int RowsDone);

/// <summary>What the first page of imports shows.</summary>
/// <param name="Kinds">Kinds that the reader may import.</param>
/// <param name="Sheets">The reader's sheets, newest first.</param>
/// <param name="Mappings">Name of each remembered mapping, and name of the kind of its rows.</param>
/// <param name="MostMebibytes">Largest file, MiB.</param>
/// <param name="KeepHours">How long an upload is kept, hours.</param>
/// <param name="Error">Why the file that was sent could not be read; null: none was, or it could.</param>
public sealed record ImportStartReport(
    IReadOnlyList<ImportKindChoice> Kinds, IReadOnlyList<ImportedSheet> Sheets, IReadOnlyList<Choice> Mappings, long MostMebibytes, int KeepHours, string? Error);

/// <summary>One column of a sheet, and what it is taken for.</summary>
/// <param name="Heading">Its heading.</param>
/// <param name="Samples">Its first cells.</param>
/// <param name="Field">The field; null: it is left out.</param>
/// <param name="IsLikely">Whether that is likely only.</param>
/// <param name="Why">Why.</param>
public sealed record ImportColumn(string Heading, IReadOnlyList<string> Samples, string? Field, bool IsLikely, string Why);

/// <summary>What is open.</summary>
/// <param name="Text">The question.</param>
/// <param name="Blocks">Whether nothing can go on without its answer.</param>
/// <param name="IsOfDateOrder">Whether it asks for the order of day and month.</param>
public sealed record ImportQuestionShown(string Text, bool Blocks, bool IsOfDateOrder);

/// <summary>What would become of a row.</summary>
public enum ImportVerdict
{
    /// <summary>It would be taken in.</summary>
    TakenIn,

    /// <summary>It would be taken in, though something looks wrong in it.</summary>
    Doubted,

    /// <summary>It says the same as a row before.</summary>
    Repeated,

    /// <summary>It would be refused.</summary>
    Refused,
}

/// <summary>A word of the sheet, and what it is taken for.</summary>
/// <param name="Field">The field.</param>
/// <param name="FieldLabel">Its name for people.</param>
/// <param name="Word">The word.</param>
/// <param name="Value">What it means; null: nobody knows.</param>
/// <param name="Values">What it may mean.</param>
public sealed record ImportWord(string Field, string FieldLabel, string Word, string? Value, IReadOnlyList<string> Values);

/// <summary>What all rows have in a field that no column holds.</summary>
/// <param name="Field">The field.</param>
/// <param name="Label">Its name for people.</param>
/// <param name="Value">The value; null: none.</param>
/// <param name="Values">What it may be; empty: any text.</param>
public sealed record ImportFixed(string Field, string Label, string? Value, IReadOnlyList<string> Values);

/// <summary>What is wrong with rows, or doubtful.</summary>
/// <param name="Field">The field; null: the whole row.</param>
/// <param name="Detail">What was found.</param>
/// <param name="Mend">What to do.</param>
/// <param name="Rows">How many rows.</param>
/// <param name="FirstRow">The first of them.</param>
public sealed record ImportTrouble(string? Field, string Detail, string Mend, int Rows, int FirstRow);

/// <summary>One row as it would be taken in.</summary>
/// <param name="Row">Its number in the sheet.</param>
/// <param name="Cells">What stands in it.</param>
/// <param name="Verdict">What would become of it.</param>
/// <param name="Trouble">Why.</param>
public sealed record ImportRow(int Row, IReadOnlyList<string> Cells, ImportVerdict Verdict, IReadOnlyList<ImportTrouble> Trouble);

/// <summary>How an uploaded sheet is read, and what would become of it.</summary>
/// <param name="Id">Its number.</param>
/// <param name="FileName">Name of its file.</param>
/// <param name="Kind">Name of the kind of its rows.</param>
/// <param name="Source">Source of the records.</param>
/// <param name="IsRegistry">Whether the rows are of the registry.</param>
/// <param name="Sentence">What would happen, in a sentence.</param>
/// <param name="Notes">How the sheet was understood.</param>
/// <param name="Broken">Why the rest of the sheet cannot be read; null: all of it can.</param>
/// <param name="Questions">What is open.</param>
/// <param name="Columns">The columns.</param>
/// <param name="Fields">Fields that a column may hold.</param>
/// <param name="Words">The words.</param>
/// <param name="Fixed">What all rows have.</param>
/// <param name="DateOrder">day_first, month_first or null.</param>
/// <param name="DecimalMark">point, comma or null.</param>
/// <param name="TimeZone">Zone of wall times; null: the site's own.</param>
/// <param name="Sheets">Sheets of the workbook.</param>
/// <param name="Sheet">The one that is read.</param>
/// <param name="Rows">Rows of the sheet.</param>
/// <param name="Good">Rows that would be taken in.</param>
/// <param name="Doubted">Of these, doubted ones.</param>
/// <param name="Repeated">Of these, ones that say the same as a row before.</param>
/// <param name="Refused">Rows that would be refused.</param>
/// <param name="First">The first rows.</param>
/// <param name="Problems">Why rows would be refused.</param>
/// <param name="Doubts">What looks wrong.</param>
/// <param name="Respelled">Spellings that were taken for codes: field, spelling, code.</param>
/// <param name="MayStart">Whether it can be taken in as it is.</param>
public sealed record ImportMapReport(
    long Id, string FileName, string Kind, string Source, bool IsRegistry, string Sentence, IReadOnlyList<string> Notes, string? Broken,
    IReadOnlyList<ImportQuestionShown> Questions,
    IReadOnlyList<ImportColumn> Columns, IReadOnlyList<Choice> Fields, IReadOnlyList<ImportWord> Words, IReadOnlyList<ImportFixed> Fixed, string? DateOrder, string? DecimalMark,
    string? TimeZone, IReadOnlyList<string> Sheets, string Sheet, int Rows, int Good, int Doubted, int Repeated, int Refused, IReadOnlyList<ImportRow> First,
    IReadOnlyList<ImportTrouble> Problems, IReadOnlyList<ImportTrouble> Doubts, IReadOnlyList<(string Field, string Spelling, string Code)> Respelled, bool MayStart);

/// <summary>How far a sheet is, or what it came to.</summary>
/// <param name="Id">Its number.</param>
/// <param name="FileName">Name of its file.</param>
/// <param name="Kind">Name of the kind of its rows.</param>
/// <param name="Source">Source of the records.</param>
/// <param name="IsRegistry">Whether the rows are of the registry.</param>
/// <param name="State">running, stopped, done or failed.</param>
/// <param name="Rows">Rows of the sheet; null: not counted.</param>
/// <param name="RowsDone">Rows dealt with.</param>
/// <param name="Accepted">Taken in.</param>
/// <param name="Duplicates">Taken in before.</param>
/// <param name="Doubted">Of those taken in, doubted ones.</param>
/// <param name="Refused">Refused.</param>
/// <param name="Trouble">Why it failed.</param>
public sealed record ImportRunReport(
    long Id, string FileName, string Kind, string Source, bool IsRegistry, string State, int? Rows, int RowsDone, int Accepted, int Duplicates, int Doubted, int Refused,
    string? Trouble);
