using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>What is wrong, or doubtful, with one row.</summary>
/// <param name="Field">The field that is to blame; null: the row as a whole.</param>
/// <param name="Rule">Which rule it breaks, a word that programs can rely on.</param>
/// <param name="Detail">What was found, in a sentence.</param>
/// <param name="Mend">What to do about it, in a sentence.</param>
public sealed record RowProblem(string? Field, string Rule, string Detail, string Mend)
{
    /// <summary>The problem of a field that lies deeper in the row.</summary>
    /// <param name="field">The problem.</param>
    internal static RowProblem Of(FieldProblem field) => new(field.Field, field.Rule, field.Detail, field.Mend);
}

/// <summary>What became of a row.</summary>
public enum RowOutcome
{
    /// <summary>Taken in.</summary>
    Accepted,

    /// <summary>The same content was taken in before under the same source and key.</summary>
    Duplicate,

    /// <summary>Not taken in; kept with its problem so that it can be mended and sent again.</summary>
    Refused,

    /// <summary>Good, but not taken in because another row of an all-or-nothing request was refused.</summary>
    HeldBack,
}

/// <summary>What became of one row of a request.</summary>
/// <param name="Row">Its place: line of NDJSON, element of an array, record of a CSV after the header; from 1.</param>
/// <param name="Key">Its key, as far as it could be read.</param>
/// <param name="Outcome">What became of it.</param>
/// <param name="Problem">Why it was refused.</param>
/// <param name="Doubts">What was taken in but looks wrong.</param>
public sealed record RowAnswer(int Row, string? Key, RowOutcome Outcome, RowProblem? Problem, IReadOnlyList<RowProblem>? Doubts);

/// <summary>What became of a request; everything counted as accepted is committed to disk.</summary>
/// <param name="Accepted">Rows taken in.</param>
/// <param name="Duplicate">Rows that had been taken in before.</param>
/// <param name="Refused">Rows refused; each is kept and can be listed.</param>
/// <param name="HeldBack">Good rows that an all-or-nothing request did not take in because of the refused ones.</param>
/// <param name="Doubted">Of the accepted rows, those with a doubt.</param>
/// <param name="UnreadFromRow">Row from which on the body could not be read, its reason being that row's problem; null: all was read.</param>
/// <param name="RowsLeftOut">Rows that belong in the list but are left out of it, because it holds 10,000 at most.</param>
/// <param name="Rows">Rows that were refused or doubted; with rows=all, every row.</param>
public sealed record IngestAnswer(
    int Accepted,
    int Duplicate,
    int Refused,
    int HeldBack,
    int Doubted,
    int? UnreadFromRow,
    int RowsLeftOut,
    IReadOnlyList<RowAnswer> Rows);
