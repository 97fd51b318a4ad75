using System.Diagnostics.Metrics;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;

namespace Washwear.Api.Operation;

/// <summary>Counts what the one way in does, once a commit whatever the number of its rows. Safe for concurrent use.</summary>
public sealed class IngestMeter
{
    // Rules are words of the program; should somebody make them of data one day, the series stay bounded.
    private const int MostRules = 200;

    private static readonly string[] Types = [.. StoredRecords.Types, "unreadable"];
    private static readonly string[] Outcomes = ["accepted", "duplicate", "refused", "held_back"];
    private static readonly int Unreadable = Types.Length - 1;

    private static readonly KeyValuePair<string, object?>[][] RowTags =
    [
        .. Types.SelectMany(type => Outcomes.Select(outcome => new KeyValuePair<string, object?>[] { new("type", type), new("outcome", outcome) })),
    ];

    private readonly Counter<long> _rows;
    private readonly Counter<long> _refused;
    private readonly Histogram<double> _commitSeconds;
    private readonly Histogram<long> _commitRows;
    private readonly Histogram<double> _lagSeconds;
    private readonly HashSet<string> _rules = new(StringComparer.Ordinal);

    /// <summary>Makes the instruments.</summary>
    /// <param name="meters">Where they are made.</param>
    public IngestMeter(IMeterFactory meters)
    {
        Meter meter = meters.Create(Telemetry.Name);
        _rows = meter.CreateCounter<long>("washwear.ingest.rows", "{row}", "Rows by what they are and what became of them.");
        _refused = meter.CreateCounter<long>("washwear.ingest.refused_rows", "{row}", "Refused rows by the rule that they break.");
        _commitSeconds = meter.CreateHistogram(
            "washwear.ingest.commit.duration", "s", "How long it took to write one transaction of records and to have it on disk.", null,
            new InstrumentAdvice<double> { HistogramBucketBoundaries = [0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10] });
        _commitRows = meter.CreateHistogram(
            "washwear.ingest.commit.rows", "{row}", "Rows of one transaction.", null,
            new InstrumentAdvice<long> { HistogramBucketBoundaries = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000] });
        _lagSeconds = meter.CreateHistogram(
            "washwear.ingest.lag", "s", "From when something happened to its receipt: the newest accepted row of each portion of a request.", null,
            new InstrumentAdvice<double> { HistogramBucketBoundaries = [1, 5, 15, 60, 300, 900, 3600, 14400, 86400, 604800, 2592000] });
    }

    /// <summary>Counts one transaction after its commit.</summary>
    /// <param name="portions">Its portions, each with its rows and what became of them.</param>
    /// <param name="took">How long it took.</param>
    /// <param name="now">When it was.</param>
    internal void Committed(
        IEnumerable<(IReadOnlyList<IncomingRow> Rows, IReadOnlyList<RowResult> Results)> portions, TimeSpan took, DateTimeOffset now)
    {
        Span<int> counts = stackalloc int[RowTags.Length];
        int rows = 0;
        foreach ((IReadOnlyList<IncomingRow> taken, IReadOnlyList<RowResult> results) in portions)
        {
            rows += taken.Count;
            Count(taken, results, counts, now);
        }

        for (int i = 0; i < counts.Length; i++)
        {
            if (counts[i] > 0)
            {
                _rows.Add(counts[i], RowTags[i]);
            }
        }

        _commitSeconds.Record(took.TotalSeconds);
        _commitRows.Record(rows);
    }

    private void Count(IReadOnlyList<IncomingRow> rows, IReadOnlyList<RowResult> results, Span<int> counts, DateTimeOffset now)
    {
        DateTimeOffset newest = DateTimeOffset.MinValue;
        for (int i = 0; i < rows.Count; i++)
        {
            IncomingRecord? record = rows[i].Record;
            RowOutcome outcome = results[i].Outcome;
            int type = record is null ? Unreadable : Array.IndexOf(Types, RecordJson.TypeOf(record));
            counts[(type * Outcomes.Length) + (int)outcome]++;
            if (outcome == RowOutcome.Accepted && record!.At > newest)
            {
                newest = record.At;
            }
            else if (outcome == RowOutcome.Refused)
            {
                _refused.Add(1, new KeyValuePair<string, object?>("rule", Bounded(results[i].Problem?.Rule ?? "unknown")));
            }
        }

        if (newest != DateTimeOffset.MinValue)
        {
            _lagSeconds.Record(Math.Max(0, (now - newest).TotalSeconds));
        }
    }

    private string Bounded(string rule)
    {
        lock (_rules)
        {
            return _rules.Contains(rule) || (_rules.Count < MostRules && _rules.Add(rule)) ? rule : "other";
        }
    }
}
