namespace Washwear.Dashboard.Shell;

/// <summary>Why a page cannot be shown, in plain words; those of the problem itself are English, as programs get them.</summary>
/// <param name="Status">HTTP status code.</param>
/// <param name="Title">What is the matter, in a few words.</param>
/// <param name="Detail">What happened, in one or two sentences.</param>
/// <param name="Mend">What the reader can do about it.</param>
/// <param name="TraceId">Identifier to quote to whoever keeps the service; null where there is nothing to look up.</param>
public sealed record ProblemReport(int Status, string Title, string Detail, string Mend, string? TraceId)
{
    /// <summary>Kind of problem, as the texts of the pages name it; null: none of those.</summary>
    public string? Kind { get; init; }

    /// <summary>Whether the detail is the one that every problem of its kind has: pages say it in words for people.</summary>
    public bool IsUsual { get; init; }

    /// <summary>Whether the address asked for something that there is not: title and detail then speak of what a program sent, and the page of the address.</summary>
    public bool AskedWrongly { get; init; }
}
