using System.Text.Json;

namespace Washwear.Api.Ingest;

/// <summary>What can be wrong with a row before its meaning is looked at, each with its mend.</summary>
internal static class RowProblems
{
    public static RowProblem TooLong(int maxRowBytes) => new(
        null,
        "row_too_long",
        $"The row is longer than {maxRowBytes} bytes; only its beginning was kept.",
        "Send one record a row; if a quote is never closed, close it.");

    public static RowProblem NotUtf8() => new(
        null,
        "utf8",
        "The row holds bytes that are not UTF-8; it was kept read as Latin-1.",
        "Save or send the file as UTF-8.");

    public static RowProblem NotAnObject() => new(
        null,
        "not_an_object",
        "The row is JSON but no object.",
        "Send one object a record, such as {\"type\":\"wash\",...}.");

    public static RowProblem NotJson(JsonException error) => new(
        null,
        "not_json",
        $"The row is not JSON from byte {(error.BytePositionInLine ?? 0) + 1} on.",
        "Check quotes, commas and brackets there; NaN and Infinity are no JSON numbers: leave such a field out.");

    public static RowProblem Empty() => new(
        null,
        "not_json",
        "There is nothing between two commas of the array.",
        "Take out the comma that is too many.");

    public static RowProblem TooDeep(int maxDepth) => new(
        null,
        "too_deep",
        $"The row is nested more than {maxDepth} deep.",
        "A record nests 3 deep at most: what stands in removed, fitted or an item of a list is a plain value.");

    public static RowProblem UnknownField(string name) => new(
        name,
        "unknown_field",
        $"No record has a field '{name}'.",
        "Take the field out or correct its name; names are written in small letters with _ between words.");

    public static RowProblem FieldOfAnotherType(string name, string type) => new(
        name,
        "unknown_field",
        $"A record of type {type} has no field '{name}'.",
        $"Take the field out; {type} has: {RecordFields.ListFor(type)}.");

    public static RowProblem PartChangesInside() => new(
        "part_changes",
        "unknown_field",
        "Part changes are records of their own.",
        "Take the field out and send one part_change record for each part, with the same unit and the instant of the change.");

    public static RowProblem NoList(string name, string detail) => new(
        name,
        "list",
        detail,
        $"Send a JSON list; in CSV too the cell holds JSON, such as {ListExample(name)}.");

    public static RowProblem GivenTwice(string name) => new(
        name,
        "given_twice",
        $"The field '{name}' is in the row twice.",
        "Send each field once.");

    public static RowProblem Nested(string name) => new(
        name,
        "not_a_plain_value",
        $"The field '{name}' holds a list or an object.",
        "Send a plain text, number, true or false.");

    public static RowProblem HalfACharacter(string name) => new(
        name,
        "text",
        $"The field '{name}' holds half a character.",
        "Send whole characters; \\ud800 to \\udfff come in pairs.");

    public static RowProblem CellCount(int cells, int columns) => new(
        null,
        "cell_count",
        $"Cells in the row: {cells}; columns in the header: {columns}.",
        "Give each row one cell a column; put a cell that holds the separator between double quotes.");

    public static RowProblem Quotes() => new(
        null,
        "quotes",
        "A double quote in the row is not closed, or stands inside a cell without being doubled.",
        "Put the whole cell between double quotes and double those inside it.");

    public static RowProblem UnreadableRest(string detail, string mend) => new(
        null,
        "unreadable_rest",
        $"From here on nothing could be read. {detail} The rows before were dealt with.",
        mend + " Then send the body again: rows that were taken in are answered as duplicates.");

    public static RowProblem KeyConflict(string source, string key) => new(
        "key",
        "key_conflict",
        $"Source '{source}' has sent other content under the key '{key}' before; the first content stays.",
        "If this corrects the first, send it under a new key with replaces naming the old one; if it is another event, give it its own key.");

    private static string ListExample(string name) => name switch
    {
        "faults" => "[\"E21\"]",
        "checks" => "[{\"check\":\"pump-current\",\"result\":\"pass\"}]",
        "proofs" => "[{\"proof\":\"full-wash\",\"result\":\"pass\"}]",
        "conditions" => "[{\"position\":\"door-gasket\",\"grade\":\"worn\"}]",
        _ => "[{\"position\":\"wash-pump\",\"failure_mode\":\"seized\"}]",
    };
}
