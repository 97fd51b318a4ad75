namespace Washwear.Api.Ingest;

/// <summary>How busy the one way in is, at one instant; counts are since the program started.</summary>
/// <param name="Requests">Requests that are being taken in or wait for their turn.</param>
/// <param name="HeldBytes">What their rows that were read and not yet written hold in memory, about, bytes.</param>
/// <param name="WaitingRows">Rows that wait for the next transaction.</param>
/// <param name="RowsPerSecond">Rows that the latest transactions wrote a second, smoothed; 0: there was none.</param>
/// <param name="Transactions">Transactions committed.</param>
/// <param name="Portions">Portions of requests that they took in: a small request is one portion.</param>
/// <param name="Rows">Rows that they took in.</param>
/// <param name="RefusedRequests">Requests refused because too much waited.</param>
public sealed record IngestLoad(
    int Requests,
    long HeldBytes,
    int WaitingRows,
    double RowsPerSecond,
    long Transactions,
    long Portions,
    long Rows,
    long RefusedRequests);
