using Washwear.Api.Storage;

namespace Washwear.Api.Ingest;

/// <summary>One request on its way in: its rows are read and handed to the writer portion by portion, the next being read while one is
/// written. Not safe for concurrent use.</summary>
/// <param name="writer">The writer.</param>
/// <param name="stay">The request's place.</param>
/// <param name="options">How it wants its rows taken in.</param>
/// <param name="keyed">Where its answer is kept; null: nowhere.</param>
internal sealed class IngestRun(IngestWriter writer, IngestRoom.Stay stay, IngestOptions options, KeyedRequest? keyed)
{
    private const int RowsPerPortion = 10_000;
    private const int TextBytesPerPortion = 8 * 1024 * 1024;

    // Rows that were read need not wait for a sender that is slow to send more.
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(500);

    private readonly IngestTally _tally = new(options.AllRows);
    private readonly NearestCode _nearest = new();
    private List<IncomingRow> _rows = [];
    private long _heldBytes;
    private int _textBytes;
    private int _lastNumber;
    private bool _cutShort;
    private Task _writing = Task.CompletedTask;

    /// <summary>Takes the rows in.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="cancellationToken">Stops reading; what was read is written.</param>
    /// <exception cref="UnreadableBodyException">Nothing was taken in, because nothing could be read, or not all of an all-or-nothing
    /// request.</exception>
    /// <exception cref="IngestFullException">Nothing was taken in: there was no room for all rows of an all-or-nothing request.</exception>
    public async Task<IngestAnswer> TakeInAsync(IAsyncEnumerable<IncomingRow> rows, CancellationToken cancellationToken)
    {
        try
        {
            await ReadAsync(rows, cancellationToken);
        }
        finally
        {
            // Whatever stopped the reading, what was handed over is written, even if the sender has gone: it may send it again.
            await _writing;
        }

        return _tally.ToAnswer();
    }

    private async Task ReadAsync(IAsyncEnumerable<IncomingRow> rows, CancellationToken cancellationToken)
    {
        await using IAsyncEnumerator<IncomingRow> reader = rows.GetAsyncEnumerator(cancellationToken);
        while (await NextSoonAsync(reader) is { } row)
        {
            _lastNumber = row.Number;
            if (!options.AllOrNothing && (_rows.Count == RowsPerPortion || _textBytes > TextBytesPerPortion))
            {
                await HandOverAsync();
            }

            await HoldAsync(row, cancellationToken);
            if (_tally.UnreadFromRow is not null)
            {
                break;
            }
        }

        await HandOverAsync(await KeepAsync(cancellationToken));
    }

    // The hash of a request is known when all of it has come; one that was cut short has none and can be sent again.
    private async Task<Func<WriteSession, DateTimeOffset, IReadOnlyList<RowResult>, Task>?> KeepAsync(CancellationToken cancellationToken)
    {
        if (keyed is null || _cutShort)
        {
            return null;
        }

        byte[] hash;
        try
        {
            hash = await keyed.Body.HashToEndAsync(cancellationToken);
        }
        catch (BadHttpRequestException)
        {
            return null;
        }

        // Asked in the transaction, after all other portions of the request have been counted.
        List<IncomingRow> last = _rows;
        return (session, now, results) => RequestKeyQueries.AddAsync(
            session,
            keyed.Key,
            new KeptAnswer(hash, StatusCodes.Status200OK, KeyedRequests.BodyOf(_tally.AnswerWith(last, results))),
            now,
            now - keyed.KeptFor);
    }

    private async Task HoldAsync(IncomingRow row, CancellationToken cancellationToken)
    {
        while (stay.TryHold(row.HeldBytes) is { } change)
        {
            if (options.AllOrNothing)
            {
                if (options.RefuseWhenFull)
                {
                    throw stay.Refused();
                }

                // It can give nothing back, so that waiting might never end.
                stay.Hold(row.HeldBytes);
                break;
            }

            await HandOverAsync();
            await change.WaitAsync(cancellationToken);
        }

        _rows.Add(row);
        _heldBytes += row.HeldBytes;
        _textBytes += row.TextBytes;
    }

    // The portions of a request come one after the other.
    private async Task HandOverAsync(Func<WriteSession, DateTimeOffset, IReadOnlyList<RowResult>, Task>? keep = null)
    {
        await _writing;
        if (_rows.Count == 0 && keep is null)
        {
            return;
        }

        var portion = new IngestPortion(_rows, options, _nearest, _heldBytes, keep);
        _rows = [];
        _heldBytes = 0;
        _textBytes = 0;
        _writing = WriteAsync(portion);
    }

    private async Task WriteAsync(IngestPortion portion)
    {
        try
        {
            _tally.Count(portion.Rows, await writer.WriteAsync(portion));
        }
        finally
        {
            stay.LetGo(portion.HeldBytes);
        }
    }

    private async ValueTask<IncomingRow?> NextSoonAsync(IAsyncEnumerator<IncomingRow> reader)
    {
        ValueTask<IncomingRow?> next = NextAsync(reader);
        if (next.IsCompleted || _rows.Count == 0 || options.AllOrNothing)
        {
            return await next;
        }

        Task<IncomingRow?> coming = next.AsTask();
        using var enough = new CancellationTokenSource();
        if (await Task.WhenAny(coming, Task.Delay(Patience, enough.Token)) != coming
            && await Task.WhenAny(coming, _writing) != coming && _writing.IsCompletedSuccessfully)
        {
            await HandOverAsync();
        }

        await enough.CancelAsync();
        return await coming;
    }

    // A body that breaks off after good rows is told of in a row of its own; one of which nothing could be read is an error.
    private async ValueTask<IncomingRow?> NextAsync(IAsyncEnumerator<IncomingRow> reader)
    {
        if (options.AllOrNothing && _lastNumber > IngestService.MostRowsAllOrNothing)
        {
            throw new UnreadableBodyException(
                "too_many_rows",
                $"An all-or-nothing request holds at most {IngestService.MostRowsAllOrNothing} rows.",
                "Send fewer rows at once, or without all_or_nothing: sending again is safe.");
        }

        bool mayBreakOff = _lastNumber > 0 && !options.AllOrNothing;
        try
        {
            return await reader.MoveNextAsync() ? reader.Current : null;
        }
        catch (UnreadableBodyException error) when (mayBreakOff)
        {
            return BrokenOff(error.Message, error.Mend);
        }
        catch (BadHttpRequestException error) when (mayBreakOff)
        {
            _cutShort = true;
            return BrokenOff(error.Message, "Send smaller requests, and each to its end.");
        }
    }

    private IncomingRow BrokenOff(string detail, string mend)
    {
        _tally.UnreadFromRow = _lastNumber + 1;
        return new IncomingRow(_lastNumber + 1, null, RowProblems.UnreadableRest(detail, mend), string.Empty, null, null, null);
    }
}
