using System.Diagnostics;
using Washwear.Api.Storage;

namespace Washwear.Api.Ingest;

/// <summary>Rows of one request that are written in one transaction.</summary>
/// <param name="Rows">The rows.</param>
/// <param name="Options">How their request wants them taken in.</param>
/// <param name="Nearest">Finds what a wrong code of their request may have meant.</param>
/// <param name="HeldBytes">What they hold in memory, about, bytes.</param>
/// <param name="Keep">Keeps the answer of the request in the transaction, which is told with when it happens and what became of the rows; null:
/// the request has no key, or more portions.</param>
internal sealed record IngestPortion(
    IReadOnlyList<IncomingRow> Rows,
    IngestOptions Options,
    NearestCode Nearest,
    long HeldBytes,
    Func<WriteSession, DateTimeOffset, IReadOnlyList<RowResult>, Task>? Keep = null)
{
    // Whoever waits goes on by itself: the writer must not do its work.
    private readonly TaskCompletionSource<IReadOnlyList<RowResult>> _written = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>The span of the request, for traces.</summary>
    public ActivityContext Request { get; } = Activity.Current?.Context ?? default;

    /// <summary>What became of the rows, once that is on disk.</summary>
    public Task<IReadOnlyList<RowResult>> Written => _written.Task;

    /// <summary>Says that the transaction has been committed.</summary>
    /// <param name="results">What became of each row.</param>
    public void Done(IReadOnlyList<RowResult> results) => _written.SetResult(results);

    /// <summary>Says that nothing was written.</summary>
    /// <param name="error">Why.</param>
    public void Failed(Exception error) => _written.SetException(error);
}
