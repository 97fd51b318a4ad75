using Washwear.Api.Http;
using Washwear.Api.Ledger;

namespace Washwear.Api.Ingest;

/// <summary>Columns of the lists of records as CSV.</summary>
public static class IngestColumns
{
    /// <summary>Columns of what was taken in.</summary>
    public static IReadOnlyList<CsvColumn<TakenRecord>> Taken { get; } =
    [
        new("seq", row => row.Seq),
        new("type", row => row.Type),
        new("source", row => row.Source),
        new("key", row => row.Key),
        new("unit", row => row.Unit),
        new("at", row => row.At),
        new("received_at", row => row.ReceivedAt),
        new("replaces", row => row.Replaces),
        new("voided", row => row.Voided),
    ];

    /// <summary>Columns of what was refused.</summary>
    public static IReadOnlyList<CsvColumn<RefusedRecord>> Refused { get; } =
    [
        new("id", row => row.Id),
        new("received_at", row => row.ReceivedAt),
        new("times", row => row.Times),
        new("source", row => row.Source),
        new("row", row => row.Row),
        new("key", row => row.Key),
        new("format", row => row.Format),
        new("field", row => row.Problem.Field),
        new("rule", row => row.Problem.Rule),
        new("detail", row => row.Problem.Detail),
        new("mend", row => row.Problem.Mend),
        new("body", row => row.Body),
    ];
}
