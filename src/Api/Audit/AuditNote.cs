using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Audit;

/// <summary>What is to be noted of what the current flow of work does. It is written in the transaction of the first change, and its outcome
/// before the answer is sent; where nothing was changed, all of it before the answer is sent.</summary>
public sealed class AuditNote : WriteCompanion
{
    /// <summary>Most characters of a detail.</summary>
    public const int LongestDetail = 1000;

    private const int LongestAbout = 200;
    private readonly TimeProvider _clock;
    private string? _writtenDetail;
    private int _ended;

    /// <summary>Begins a note.</summary>
    /// <param name="clock">The clock.</param>
    /// <param name="entry">What is known already.</param>
    internal AuditNote(TimeProvider clock, AuditEntry entry)
    {
        _clock = clock;
        Entry = entry;
    }

    /// <summary>The note of the current flow of work; null: nothing of it is noted.</summary>
    public static new AuditNote? Current => WriteCompanion.Current as AuditNote;

    /// <summary>What is known.</summary>
    internal AuditEntry Entry { get; private set; }

    /// <summary>Number of the entry, once it was written.</summary>
    internal long EntryId { get; private set; }

    /// <summary>What became known after the entry was written; null: nothing.</summary>
    internal string? LaterDetail => Entry.Detail == _writtenDetail ? null : Entry.Detail;

    /// <summary>Says who it is, where that comes out only on the way, as at a sign-in.</summary>
    /// <param name="caller">The caller.</param>
    public void By(AuditCaller caller) => Entry = Entry with { Caller = caller };

    /// <summary>Says what it is about.</summary>
    /// <param name="kind">Kind of thing, such as unit or key.</param>
    /// <param name="about">Its code, key or number, never the name of a person; null: it has only a name.</param>
    /// <param name="name">Its name, if it is a key or a person.</param>
    public void On(string kind, string? about, string? name = null) =>
        Entry = Entry with { AboutKind = kind, About = about is null ? null : Cut(about, LongestAbout), AboutName = name };

    /// <summary>Says what changes, in a few words: no secrets, no names of people. Saying it again replaces what was said.</summary>
    /// <param name="detail">The words; what is longer than 1,000 characters is cut.</param>
    public void Saying(string detail) => Entry = Entry with { Detail = Cut(detail, LongestDetail) };

    /// <summary>Ends the note, once.</summary>
    /// <returns>Whether it had not ended yet.</returns>
    internal bool TryEnd() => Interlocked.Exchange(ref _ended, 1) == 0;

    /// <inheritdoc/>
    internal override async Task WriteAsync(WriteSession session)
    {
        EntryId = await AuditQueries.AddAsync(session, Entry with { At = _clock.GetUtcNow() }, CancellationToken.None);
        _writtenDetail = Entry.Detail;
    }

    private static string Cut(string text, int most) => text.Length <= most ? text : text[..(most - 1)] + "…";
}

/// <summary>An entry of the audit before it is written.</summary>
/// <param name="Caller">Who.</param>
/// <param name="Action">What: a stable word such as approval.decide.</param>
public sealed record AuditEntry(AuditCaller Caller, string Action)
{
    /// <summary>When; set when it is written.</summary>
    public DateTimeOffset At { get; init; }

    /// <summary>Method of the request; null: it was none.</summary>
    public string? Method { get; init; }

    /// <summary>Pattern of the route, or name of the command.</summary>
    public string? Route { get; init; }

    /// <summary>Kind of what it is about.</summary>
    public string? AboutKind { get; init; }

    /// <summary>Code, key or number of what it is about.</summary>
    public string? About { get; init; }

    /// <summary>Its name, if it is a key or a person.</summary>
    public string? AboutName { get; init; }

    /// <summary>IP address.</summary>
    public string? Address { get; init; }

    /// <summary>Identifier of the request in the log.</summary>
    public string? Trace { get; init; }

    /// <summary>What changed, in a few words.</summary>
    public string? Detail { get; init; }

    /// <summary>HTTP status, or exit code of a command; null: noted later.</summary>
    public int? Status { get; init; }

    /// <summary>What it is about, in the form that is compared.</summary>
    internal string? AboutKey => About is null ? null : Codes.Key(About);
}
