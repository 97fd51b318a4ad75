namespace Washwear.Api.Import.Guessing;

/// <summary>How sure a guess is.</summary>
public enum Sureness
{
    /// <summary>Heading or cells leave no doubt.</summary>
    Sure,

    /// <summary>Most likely; worth a look.</summary>
    Likely,

    /// <summary>Nothing was found; the column is left out.</summary>
    LeftOut,
}

/// <summary>What a column most likely holds, and why.</summary>
/// <param name="Heading">Heading, unique in the sheet.</param>
/// <param name="Samples">First cells that hold something.</param>
/// <param name="Field">The field; null: the column is left out.</param>
/// <param name="Sureness">How sure that is.</param>
/// <param name="Why">Why, in words.</param>
public sealed record GuessedColumn(string Heading, IReadOnlyList<string> Samples, string? Field, Sureness Sureness, string Why);

/// <summary>Something that has to be said before rows can be taken in as they are meant.</summary>
/// <param name="About">What it is about: a field, date_order, decimal_mark or time_zone.</param>
/// <param name="Text">The question, with an example from the sheet.</param>
/// <param name="Say">How to answer it in a mapping.</param>
/// <param name="Blocks">Whether nothing can be taken in without an answer; else the rows that it touches are refused.</param>
public sealed record ImportQuestion(string About, string Text, string Say, bool Blocks);

/// <summary>How a sheet is most likely meant.</summary>
/// <param name="Mapping">The mapping.</param>
/// <param name="Columns">Each column with the reason.</param>
/// <param name="Questions">What is open.</param>
/// <param name="Notes">What was decided beside the columns, and from what, in sentences.</param>
internal sealed record Guess(
    ImportMapping Mapping, IReadOnlyList<GuessedColumn> Columns, IReadOnlyList<ImportQuestion> Questions, IReadOnlyList<string> Notes)
{
    /// <summary>Whether rows may be taken in without anybody looking at it.</summary>
    public bool IsSure => Questions.Count == 0 && Columns.All(column => column.Sureness != Sureness.Likely);
}
