namespace Washwear.Api.Ingest;

/// <summary>How much may be read and not yet written, over all requests, so that memory stays bounded whatever comes. Safe for concurrent
/// use.</summary>
/// <param name="mostRequests">Most requests at once.</param>
/// <param name="mostBytes">Most bytes of rows at once. What is alone and larger is held all the same, else it would never fit.</param>
internal sealed class IngestRoom(int mostRequests, long mostBytes)
{
    private readonly Lock _gate = new();
    private readonly long _mostBytes = mostBytes;
    private TaskCompletionSource? _change;
    private int _requests;
    private long _bytes;
    private long _refused;

    /// <summary>Requests inside, bytes that they hold, and how many were refused.</summary>
    public (int Requests, long Bytes, long Refused) Use
    {
        get
        {
            lock (_gate)
            {
                return (_requests, _bytes, _refused);
            }
        }
    }

    /// <summary>Lets a request in.</summary>
    /// <param name="options">Whether it waits for its turn, and whether it holds all its rows to the end.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <exception cref="IngestFullException">There is no room, and the request does not want to wait.</exception>
    public async Task<Stay> EnterAsync(IngestOptions options, CancellationToken cancellationToken)
    {
        while (true)
        {
            Task change;
            lock (_gate)
            {
                if (_requests < mostRequests && _bytes < _mostBytes)
                {
                    _requests++;
                    return new Stay(this, options.AllOrNothing);
                }

                if (options.RefuseWhenFull)
                {
                    _refused++;
                    throw new IngestFullException();
                }

                change = Change();
            }

            await change.WaitAsync(cancellationToken);
        }
    }

    // Within the gate: what comes true when something is let go of.
    private Task Change() => (_change ??= new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously)).Task;

    private void LetGo(ref long held, long bytes, int requests)
    {
        TaskCompletionSource? change;
        lock (_gate)
        {
            held -= bytes;
            _bytes -= bytes;
            _requests -= requests;
            change = _change;
            _change = null;
        }

        change?.SetResult();
    }

    /// <summary>One request's place. Its rows are added by one reader at a time; they may be let go of at any time.</summary>
    /// <param name="room">Where it stays.</param>
    /// <param name="toTheEnd">Whether it holds all its rows to the end.</param>
    public sealed class Stay(IngestRoom room, bool toTheEnd) : IDisposable
    {
        private long _held;
        private bool _began;

        // Long requests leave room to those that begin, and those that give nothing back before their end leave room to both.
        private long Most => !_began ? room._mostBytes : toTheEnd ? room._mostBytes / 2 : room._mostBytes / 4 * 3;

        /// <summary>Holds a row, if there is room.</summary>
        /// <param name="bytes">What it holds in memory.</param>
        /// <returns>null: it is held; else what to wait for before the next try.</returns>
        public Task? TryHold(long bytes)
        {
            lock (room._gate)
            {
                // Alone it goes on all the same: a row that is larger than the room, or all rows of a request that gives none back.
                if (room._bytes != (toTheEnd ? _held : 0) && room._bytes + bytes > Most)
                {
                    return room.Change();
                }

                Add(bytes);
                return null;
            }
        }

        /// <summary>Holds a row whether there is room or not.</summary>
        /// <param name="bytes">What it holds in memory.</param>
        public void Hold(long bytes)
        {
            lock (room._gate)
            {
                Add(bytes);
            }
        }

        /// <summary>Lets go of rows.</summary>
        /// <param name="bytes">What they held.</param>
        public void LetGo(long bytes) => room.LetGo(ref _held, bytes, 0);

        /// <summary>Refuses the request after all.</summary>
        public IngestFullException Refused()
        {
            lock (room._gate)
            {
                room._refused++;
            }

            return new IngestFullException();
        }

        /// <inheritdoc/>
        public void Dispose() => room.LetGo(ref _held, _held, 1);

        private void Add(long bytes)
        {
            _began = true;
            _held += bytes;
            room._bytes += bytes;
        }
    }
}
