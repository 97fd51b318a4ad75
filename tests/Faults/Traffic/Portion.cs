using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;

namespace Washwear.Faults.Traffic;

/// <summary>What is sent in one request and acknowledged by one answer.</summary>
/// <param name="Source">Who sends it.</param>
internal abstract record Portion(string Source)
{
    /// <summary>Sends it, again if need be.</summary>
    /// <param name="client">A client that may.</param>
    public abstract Task<HttpResponseMessage> SendAsync(HttpClient client);

    /// <summary>What is wrong with an answer of 200; null: nothing.</summary>
    /// <param name="answer">Body of the answer.</param>
    public virtual string? Wrong(string answer) => null;

    /// <summary>Whether an answer says that it is done; else it has to be sent again.</summary>
    /// <param name="status">Status of the answer.</param>
    public virtual bool IsDone(HttpStatusCode status) => status == HttpStatusCode.OK;
}

/// <summary>Records in one request.</summary>
/// <param name="Source">Who sends them.</param>
/// <param name="Rows">The records.</param>
/// <param name="AllOrNothing">Whether it is asked for all or nothing.</param>
/// <param name="Bad">A row that is refused, sent in their midst; null: none.</param>
internal sealed record RowsPortion(string Source, IReadOnlyList<Row> Rows, bool AllOrNothing, string? Bad) : Portion(Source)
{
    /// <summary>Whether its rows are in the ledger once it is acknowledged.</summary>
    public bool IsKept => !(AllOrNothing && Bad is not null);

    /// <inheritdoc/>
    public override Task<HttpResponseMessage> SendAsync(HttpClient client)
    {
        List<string> lines = [.. Rows.Select(row => row.Json)];
        if (Bad is not null)
        {
            lines.Insert(lines.Count / 2, Bad);
        }

        var content = new ByteArrayContent(Encoding.UTF8.GetBytes(string.Join('\n', lines)));
        content.Headers.ContentType = new MediaTypeHeaderValue(lines.Count == 1 ? "application/json" : "application/x-ndjson");
        return client.PostAsync($"/v1/records?source={Source}{(AllOrNothing ? "&all_or_nothing=true" : "")}", content);
    }

    /// <inheritdoc/>
    public override string? Wrong(string answer)
    {
        using JsonDocument document = JsonDocument.Parse(answer);
        int Of(string name) => document.RootElement.GetProperty(name).GetInt32();
        int refused = Bad is null ? 0 : 1;
        int taken = Of("accepted") + Of("duplicate");
        return Of("refused") == refused && taken == (IsKept ? Rows.Count : 0) ? null : $"{Rows.Count} rows, {refused} bad, of {Source}: {answer}";
    }
}

/// <summary>A photo of a visit.</summary>
/// <param name="Source">Who sends it.</param>
/// <param name="VisitKey">Key of the visit.</param>
/// <param name="Bytes">The photo.</param>
internal sealed record PhotoPortion(string Source, string VisitKey, byte[] Bytes) : Portion(Source)
{
    /// <inheritdoc/>
    public override Task<HttpResponseMessage> SendAsync(HttpClient client) =>
        client.PostAsync($"/v1/visits/{VisitKey}/photos?source={Source}", new ByteArrayContent(Bytes));
}

/// <summary>A decision on an approval.</summary>
/// <param name="Source">Who asked.</param>
/// <param name="AskingKey">Key of the record that asked.</param>
/// <param name="Seq">Its number in the ledger.</param>
internal sealed record DecisionPortion(string Source, string AskingKey, long Seq) : Portion(Source)
{
    /// <inheritdoc/>
    public override Task<HttpResponseMessage> SendAsync(HttpClient client) => client.PostAsync(
        $"/v1/approvals/{Seq}/decision", new StringContent("""{"decision":"granted","by":"Alex (invented)"}""", Encoding.UTF8, "application/json"));

    // Sent again after it was taken without an answer, it is told that it was decided already.
    /// <inheritdoc/>
    public override bool IsDone(HttpStatusCode status) => status is HttpStatusCode.OK or HttpStatusCode.Conflict;
}

/// <summary>A unit of the registry.</summary>
/// <param name="Source">Who sends it.</param>
/// <param name="Unit">Asset tag.</param>
/// <param name="Serial">Serial number that is put.</param>
/// <param name="ReportingHours">After how many hours of silence it is asked after.</param>
internal sealed record RegistryPortion(string Source, string Unit, string Serial, int ReportingHours) : Portion(Source)
{
    /// <inheritdoc/>
    public override Task<HttpResponseMessage> SendAsync(HttpClient client) =>
        Fleet.PutAsync(client, "/v1/units/" + Unit, Fleet.UnitBody(Serial, ReportingHours));
}
