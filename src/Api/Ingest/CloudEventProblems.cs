namespace Washwear.Api.Ingest;

/// <summary>What can be wrong with a CloudEvent around its record, each with its mend.</summary>
internal static class CloudEventProblems
{
    public static RowProblem Missing(string attribute) => new(
        attribute, "missing", $"The event has no {attribute}.", "Every CloudEvent has specversion, id, source and type, none of them blank.");

    public static RowProblem NotText(string attribute) => new(
        attribute, "text", $"{attribute} is no text.", "Put it between double quotes.");

    public static RowProblem OddVersion(string prefix) => new(
        prefix + "specversion", "specversion", "The event follows another version of CloudEvents.", "Send it as version 1.0.");

    public static RowProblem LongId(string prefix) => new(
        prefix + "id", "too_long", "The event's id is longer than a key may be, 200 characters.", "Shorten it, or give key in the data.");

    public static RowProblem OddSource(string prefix) => new(
        prefix + "source",
        "source",
        "The event's source cannot be the record's: it is longer than 64 characters, has a space at an end, or characters that cannot be printed.",
        "Name the sender in the address, ?source=, or in the data.");

    public static RowProblem OddType(string prefix) => new(
        prefix + "type",
        "unknown_type",
        "The last segment of the event's type names no type of record.",
        "Name events after their record, such as com.example.wash, or name the type in the address, ?type=, or in the data; records are: "
        + string.Join(", ", RecordFields.Types) + ".");

    public static RowProblem OddTime(string prefix) => new(
        prefix + "time", "instant", "The event's time is no instant with an offset.", $"Write it as {InstantText.Shape}.");

    public static RowProblem NotJson(string field) => new(
        field,
        "data_not_json",
        "The event's data is not JSON.",
        "Send the record as a JSON object in data, with datacontenttype application/json or none; CSV is taken in without an event around it.");

    public static RowProblem NoData() => new(
        "data", "missing", "The event carries no data.", "Put the record into data, as a JSON object.");

    public static RowProblem DataNoObject() => new(
        "data", "not_an_object", "The event's data is JSON but no object.", "Put one record into data, as a JSON object; send several as a batch of events.");
}
