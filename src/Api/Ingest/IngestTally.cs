namespace Washwear.Api.Ingest;

/// <summary>Counts what becomes of rows and keeps the list of those that the answer names. Not safe for concurrent use.</summary>
/// <param name="allRows">Whether the answer names every row.</param>
internal sealed class IngestTally(bool allRows)
{
    /// <summary>Most rows that an answer names; the refused ones can all be listed afterwards.</summary>
    public const int MostRowsListed = 10_000;

    private List<RowAnswer> _rows = [];
    private int _accepted;
    private int _duplicate;
    private int _refused;
    private int _heldBack;
    private int _doubted;
    private int _leftOut;

    /// <summary>Place of the first row that could not be read, if reading broke off.</summary>
    public int? UnreadFromRow { get; set; }

    /// <summary>The answer as it will be when these rows are counted too; nothing is counted yet.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="results">What became of each.</param>
    public IngestAnswer AnswerWith(IReadOnlyList<IncomingRow> rows, IReadOnlyList<RowResult> results)
    {
        var copy = (IngestTally)MemberwiseClone();
        copy._rows = [.. _rows];
        copy.Count(rows, results);
        return copy.ToAnswer();
    }

    /// <summary>Counts rows.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="results">What became of each.</param>
    public void Count(IReadOnlyList<IncomingRow> rows, IReadOnlyList<RowResult> results)
    {
        for (int index = 0; index < rows.Count; index++)
        {
            Count(rows[index], results[index]);
        }
    }

    /// <summary>Counts a row.</summary>
    /// <param name="row">The row.</param>
    /// <param name="result">What became of it.</param>
    public void Count(IncomingRow row, RowResult result)
    {
        switch (result.Outcome)
        {
            case RowOutcome.Accepted:
                _accepted++;
                _doubted += result.Doubts is null ? 0 : 1;
                break;
            case RowOutcome.Duplicate:
                _duplicate++;
                break;
            case RowOutcome.Refused:
                _refused++;
                break;
            case RowOutcome.HeldBack:
                _heldBack++;
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(result), result.Outcome, "No such outcome.");
        }

        if (!allRows && result.Problem is null && result.Doubts is null)
        {
            return;
        }

        if (_rows.Count < MostRowsListed)
        {
            _rows.Add(new RowAnswer(row.Number, row.Key, result.Outcome, result.Problem, result.Doubts));
        }
        else
        {
            _leftOut++;
        }
    }

    /// <summary>The answer.</summary>
    public IngestAnswer ToAnswer() =>
        new(_accepted, _duplicate, _refused, _heldBack, _doubted, UnreadFromRow, _leftOut, [.. _rows]);
}
