namespace Washwear.Api.Ingest;

/// <summary>Too much waits to be written; nothing of the request was taken in, and it can be sent again.</summary>
public sealed class IngestFullException() : Exception("Too much waits to be written.");
