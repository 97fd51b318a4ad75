using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Antiforgery;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Accounts;
using Washwear.Api.Audit;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>A form by which somebody at a unit tells a fault and asks for a visit. It becomes the records that anybody may send: a visit that is
/// asked for, and a fault for each that was not open yet.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">Reads open faults.</param>
/// <param name="queries">Reads visits that were asked for.</param>
/// <param name="closeOuts">Sends the records of forms.</param>
public sealed class VisitAsks(RegistryCache registry, CleaningQueries cleaning, VisitQueries queries, CloseOuts closeOuts)
{
    /// <summary>The form.</summary>
    /// <param name="code">Asset tag of the unit.</param>
    /// <param name="entered">What was entered; null: nothing yet.</param>
    /// <param name="problems">What is wrong with it.</param>
    /// <param name="reader">Who is signed in.</param>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The form; null when there is no such unit.</returns>
    public async Task<AskReport?> AssembleAsync(
        string code, CloseOutValues? entered, IReadOnlyList<CloseOutProblem> problems, Reader reader, DateTimeOffset now, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (!snapshot.Units.TryGetValue(code, out UnitEntry? unit))
        {
            return null;
        }

        CloseOutFault[] faults = await FaultsAsync(snapshot, unit, now, cancellationToken);
        return new AskReport(
            unit.Resource.Unit,
            unit.Site.Resource.Name,
            unit.Model.Resource.Name,
            unit.Site.Resource.TimeZone,
            reader.Name,
            reader.MaySend,
            (await queries.AskedAsync(unit.Id, now, cancellationToken))?.AskedAt,
            faults,
            entered ?? new CloseOutValues(new Dictionary<string, IReadOnlyList<string>>
            {
                [CloseOutFields.Key] = [Guid.CreateVersion7(now).ToString()],
                [CloseOutFields.Asked] = [SiteTime.Of(now, unit.Site.Zone)],
                [CloseOutFields.Since] = [SiteTime.Of(now, unit.Site.Zone)],
                [CloseOutFields.Fault] = [.. faults.Where(fault => fault.OpenSince is not null).Select(fault => fault.Code)],
            }),
            problems);
    }

    /// <summary>Saves it; safe to call again with the same key.</summary>
    /// <param name="code">Asset tag of the unit.</param>
    /// <param name="values">What was entered.</param>
    /// <param name="reader">Who saves it: the source of its records.</param>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops waiting; what was committed stays.</param>
    /// <returns>What became of it; null when there is no such unit.</returns>
    public async Task<CloseOutResult?> SaveAsync(
        string code, CloseOutValues values, Reader reader, DateTimeOffset now, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (!snapshot.Units.TryGetValue(code, out UnitEntry? unit))
        {
            return null;
        }

        if (CloseOuts.Head(values, reader.Name) is { } wrong)
        {
            return CloseOuts.Refused(values, [wrong]);
        }

        IReadOnlyList<string> chosen = values.All(CloseOutFields.Fault);
        if (chosen.Count == 0 && values.Of(CloseOutFields.Note) is null)
        {
            return CloseOuts.Refused(
                values,
                [new CloseOutProblem(CloseOutFields.Fault, "missing", "Nobody said what is wrong.", "Choose a fault, or say it in your own words.")]);
        }

        HashSet<string> open = [.. (await FaultsAsync(snapshot, unit, now, cancellationToken)).Where(fault => fault.OpenSince is not null).Select(fault => fault.Code)];
        string key = values.Of(CloseOutFields.Key)!;
        CloseOutRecord[] records = [Visit(values, unit, key, chosen, now), .. chosen.Where(fault => !open.Contains(fault)).Select(fault => Fault(values, unit, key, fault, now))];
        return await closeOuts.SendAsync(values, records, unit.Site.Resource.TimeZone, reader.Name, cancellationToken);
    }

    private static CloseOutRecord Visit(CloseOutValues values, UnitEntry unit, string key, IReadOnlyList<string> faults, DateTimeOffset now)
    {
        var visit = new JsonObject
        {
            ["type"] = "visit",
            ["key"] = key,
            ["unit"] = unit.Resource.Unit,
            ["asked_at"] = Wall(values.Of(CloseOutFields.Asked), unit, now),
        };
        if (faults.Count > 0)
        {
            visit["faults"] = new JsonArray([.. faults.Select(code => (JsonNode)code)]);
        }

        if (values.Of(CloseOutFields.Note)?.ReplaceLineEndings("\n") is { } note)
        {
            visit["note"] = note;
        }

        return new CloseOutRecord(visit, new Dictionary<string, string>
        {
            ["asked_at"] = CloseOutFields.Asked,
            ["faults"] = CloseOutFields.Fault,
            ["note"] = CloseOutFields.Note,
        });
    }

    private static CloseOutRecord Fault(CloseOutValues values, UnitEntry unit, string key, string code, DateTimeOffset now) => new(
        new JsonObject
        {
            ["type"] = "fault",
            ["key"] = key + CloseOutRecords.Separator + "fault" + CloseOutRecords.Separator + code,
            ["unit"] = unit.Resource.Unit,
            ["code"] = code,
            ["raised_at"] = Wall(values.Of(CloseOutFields.Since) ?? values.Of(CloseOutFields.Asked), unit, now),
        },
        new Dictionary<string, string> { ["code"] = CloseOutFields.Fault, ["at"] = CloseOutFields.Since, ["raised_at"] = CloseOutFields.Since });

    private static string Wall(string? typed, UnitEntry unit, DateTimeOffset now) =>
        SiteTime.ToInstant(typed ?? SiteTime.Of(now, unit.Site.Zone), unit.Site.Zone)!;

    private async Task<CloseOutFault[]> FaultsAsync(RegistrySnapshot snapshot, UnitEntry unit, DateTimeOffset now, CancellationToken cancellationToken)
    {
        UnitHistory history = (await cleaning.HistoriesAsync([snapshot.Cleaning.ById[unit.Id]], now, cancellationToken))[unit.Id];
        return [.. CloseOutReports.Faults(unit.Model, history, [])];
    }
}

/// <summary>Addresses of the form that asks for a visit.</summary>
internal static class VisitAskEndpoints
{
    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder pages = routes.MapGroup(Urls.AskVisitRoute).ExcludeFromDescription();
        pages.MapGet(string.Empty, FormAsync).RequireAbility(Abilities.Read);
        pages.MapPost(string.Empty, SaveAsync).Audited("visit.ask").RequireAbility(Abilities.Work);
    }

    private static async Task<IResult> FormAsync(
        string unit, HttpContext context, Pages pages, VisitAsks asks, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return await asks.AssembleAsync(unit, null, [], VisitEndpoints.ReaderOf(context), now, cancellationToken) is { } report
            ? pages.Of<AskPage>(context, report, now)
            : Problems.NotFound("unit", unit);
    }

    private static async Task<IResult> SaveAsync(
        string unit, HttpContext context, Pages pages, IAntiforgery forms, VisitAsks asks, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        CloseOutValues values = CloseOutForm.Values(await CloseOutForm.ReadAsync(context, forms, settings, cancellationToken));
        Reader reader = VisitEndpoints.ReaderOf(context);
        DateTimeOffset now = clock.GetUtcNow();
        if (await asks.SaveAsync(unit, values, reader, now, cancellationToken) is not { } result)
        {
            return Problems.NotFound("unit", unit);
        }

        if (!result.IsRefused)
        {
            context.Response.Headers.Location = Urls.Visit(result.Key, result.Outcome == "saved" ? "asked" : result.Outcome, []);
            return Results.StatusCode(StatusCodes.Status303SeeOther);
        }

        using IDisposable forReader = ReaderPreferences.Use(ReaderRequests.Of(context));
        return await asks.AssembleAsync(unit, values, result.Problems, reader, now, cancellationToken) is { } again
            ? pages.Of<AskPage>(context, again, now, StatusCodes.Status422UnprocessableEntity)
            : Problems.NotFound("unit", unit);
    }
}
