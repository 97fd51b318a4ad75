using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Api.Webhooks;

/// <summary>An approval that was just asked for or decided, as receivers are told of it.</summary>
/// <param name="Id">Number of its record, under which it can be decided.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="What">What is to be approved.</param>
/// <param name="Amount">What it costs, in the installation's currency.</param>
/// <param name="FaultCode">Fault that the repair is for.</param>
/// <param name="AskedAt">When it was asked for.</param>
/// <param name="Decision">What was decided; null: it is open.</param>
/// <param name="DecidedAt">When.</param>
/// <param name="DecidedBy">By whom.</param>
/// <param name="Note">Words.</param>
internal sealed record ApprovalNews(
    long Id,
    string Source,
    string Key,
    string Unit,
    string Site,
    string SiteName,
    string? What,
    double? Amount,
    string? FaultCode,
    DateTimeOffset? AskedAt,
    ApprovalDecision? Decision,
    DateTimeOffset? DecidedAt,
    string? DecidedBy,
    string? Note)
{
    // History that is loaded later wakes nobody.
    private static readonly TimeSpan NewsFor = TimeSpan.FromDays(7);

    /// <summary>What a record tells; null: it is no news, since it was decided longer ago.</summary>
    /// <param name="seq">Number of the record.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="record">The record.</param>
    /// <param name="now">When it was taken in.</param>
    public static ApprovalNews? Of(long seq, UnitEntry unit, ApprovalRecord record, DateTimeOffset now) => record.DecidedAt < now - NewsFor
        ? null
        : new ApprovalNews(
            seq, record.Source, record.Key, unit.Resource.Unit, unit.Site.Resource.Site, unit.Site.Resource.Name, record.What, record.Amount,
            record.FaultCode, record.AskedAt, record.Decision, record.DecidedAt, record.DecidedBy, record.Note);

    /// <summary>The same with its texts cut.</summary>
    /// <param name="cut">Cuts a text.</param>
    public ApprovalNews With(Func<string, string> cut) => this with
    {
        SiteName = cut(SiteName),
        What = What is null ? null : cut(What),
        DecidedBy = DecidedBy is null ? null : cut(DecidedBy),
        Note = Note is null ? null : cut(Note),
    };
}
