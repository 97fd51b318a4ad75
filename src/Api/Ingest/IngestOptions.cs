namespace Washwear.Api.Ingest;

/// <summary>How a request wants its rows taken in.</summary>
/// <param name="AllRows">Whether the answer names every row, not only those refused or doubted.</param>
/// <param name="AllOrNothing">Whether one refused row keeps all others out.</param>
/// <param name="KeepRefused">Whether refused rows are kept to be mended here; a form that gets them back keeps them itself. Only an
/// all-or-nothing request may say no.</param>
/// <param name="RefuseWhenFull">Whether the request is refused at its begin when too much waits to be written; else it waits.</param>
public sealed record IngestOptions(
    bool AllRows = false, bool AllOrNothing = false, bool KeepRefused = true, bool RefuseWhenFull = false);
