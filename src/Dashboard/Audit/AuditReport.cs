using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Audit;

/// <summary>What kind of caller did something.</summary>
public enum CallerKind
{
    /// <summary>A program by its key, or whoever signed in with it.</summary>
    Key,

    /// <summary>A person who signed in.</summary>
    Person,

    /// <summary>The program itself.</summary>
    System,

    /// <summary>Somebody who ran a command on the machine.</summary>
    Command,

    /// <summary>Nobody who is known.</summary>
    Stranger,
}

/// <summary>Which entries of the audit are asked for.</summary>
/// <param name="From">From when on; null: from the first.</param>
/// <param name="To">Until when, exclusive; null: to the last.</param>
/// <param name="Caller">Name of the caller at that time; null: all.</param>
/// <param name="Action">An action such as approval.decide, or its first word for all that begin with it; null: all.</param>
/// <param name="About">Code, key, number or name of what it was about; null: all.</param>
public sealed record AuditFilter(DateTimeOffset? From, DateTimeOffset? To, string? Caller, string? Action, string? About)
{
    /// <summary>All of them.</summary>
    public static AuditFilter All { get; } = new(null, null, null, null, null);
}

/// <summary>An entry of the audit.</summary>
/// <param name="Id">Number, growing.</param>
/// <param name="At">When.</param>
/// <param name="CallerKind">What kind of caller.</param>
/// <param name="CallerNumber">Number of the key or person; null: neither.</param>
/// <param name="Caller">Name of the caller at that time; null: not known.</param>
/// <param name="Action">What was done: a stable word such as approval.decide.</param>
/// <param name="Method">Method of the request; null: it was none.</param>
/// <param name="Route">Pattern of the route, or name of the command.</param>
/// <param name="AboutKind">Kind of what it was about, such as unit; null: nothing in particular.</param>
/// <param name="About">Its code, key or number.</param>
/// <param name="AboutName">Its name at that time, if it is a key or a person.</param>
/// <param name="Status">HTTP status of the answer, or exit code of the command (0: done); null: the change is there, but the program ended
/// before it could be noted what was answered.</param>
/// <param name="Address">IP address that the request came from.</param>
/// <param name="TraceId">Identifier of the request in the log.</param>
/// <param name="Detail">What changed, in a few words; null: nothing more is told.</param>
public sealed record AuditRow(
    long Id,
    DateTimeOffset At,
    CallerKind CallerKind,
    long? CallerNumber,
    string? Caller,
    string Action,
    string? Method,
    string? Route,
    string? AboutKind,
    string? About,
    string? AboutName,
    long? Status,
    string? Address,
    string? TraceId,
    string? Detail);

/// <summary>What the page of the audit shows.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Rows">The entries of this page, newest first.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
/// <param name="Filter">What the reader asked for.</param>
public sealed record AuditPageReport(Basis Basis, string Sentence, IReadOnlyList<AuditRow> Rows, string? Next, AuditFilter Filter);
