using System.Text.Json;
using Microsoft.AspNetCore.Antiforgery;
using Washwear.Api.Audit;
using Washwear.Api.Commands;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.Import;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Import;

/// <summary>Pages on which spreadsheets come in.</summary>
internal static class ImportPages
{
    private const int LongestSource = 64;
    private const int LongestName = 200;
    private static readonly TimeSpan WaitForShortOnes = TimeSpan.FromSeconds(2);

    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Ingest).RequireWholeFleet().ExcludeFromDescription();
        pages.MapGet(Urls.Import, StartAsync);
        pages.MapPost(Urls.Import, UploadAsync).Audited("import.upload");
        pages.MapGet(Urls.ImportSheetRoute, ShowAsync);
        pages.MapPost(Urls.ImportSheetRoute, ChangeAsync).Audited("import.change");
        pages.MapGet(Urls.ImportRefusedRoute, RefusedAsync);
        pages.MapGet(Urls.ImportTemplateRoute, Template);
        pages.MapPost(Urls.ImportMappingForgetRoute, ForgetMappingAsync).Audited("mapping.delete");
    }

    private static async Task<IResult> StartAsync(HttpContext context, Pages pages, ImportReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        pages.Of<ImportStartPage>(context, await reports.StartAsync(Owner(context), MayManage(context), null, cancellationToken), clock.GetUtcNow());

    private static async Task<IResult> UploadAsync(
        HttpContext context, IAntiforgery forms, Settings settings, Pages pages, ImportReports reports, ImportSheetQueries queries, ImportFiles files, MappingQueries mappings,
        SheetReader reader, TimeProvider clock, CancellationToken cancellationToken)
    {
        IFormCollection form = await ImportForm.ReadUploadAsync(context, forms, settings, cancellationToken);
        NamedMapping? named = form["mapping"].ToString() is { Length: > 0 } name ? await mappings.FindAsync(name, cancellationToken) : null;
        ImportKind? kind = ImportKinds.Find(form["kind"].ToString() is { Length: > 0 } told ? told : named?.Reads.Kind);
        string source = form["source"].ToString().Trim() is { Length: > 0 } given ? given : Transfer.UsualSource;
        string? error = ErrorOf(form.Files.GetFile("file"), kind, named, source, MayManage(context), settings)
            ?? ((await queries.OfOwnerAsync(Owner(context), cancellationToken)).Count >= settings.ImportUploadsMax ? $"You have {settings.ImportUploadsMax} sheets here already. Forget one first." : null);
        if (error is null)
        {
            IFormFile file = form.Files.GetFile("file")!;
            string stored = await files.KeepAsync(file, cancellationToken);
            try
            {
                using OpenedSheet opened = await reader.OpenAsync(files.Of(stored), kind!, named?.Reads, null, cancellationToken);
                long id = await queries.AddAsync(Owner(context), stored, NameOf(file), kind!.Name, source, named is null ? null : JsonSerializer.Serialize(named.Reads, Json.Options));
                return SeeOther(context, Urls.ImportSheet(id));
            }
            catch (Exception trouble)
            {
                files.Forget(stored);
                if (trouble is not UnreadableBodyException unreadable)
                {
                    throw;
                }

                error = unreadable.Message + " " + unreadable.Mend;
            }
        }

        return pages.Of<ImportStartPage>(
            context, await reports.StartAsync(Owner(context), MayManage(context), error, cancellationToken), clock.GetUtcNow(), StatusCodes.Status400BadRequest);
    }

    private static async Task<IResult> ShowAsync(
        long id, HttpContext context, Pages pages, ImportReports reports, ImportSheetQueries queries, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (await queries.FindAsync(Owner(context), id, cancellationToken) is not { } stored)
        {
            return NoSheet(id);
        }

        if (stored.State != ImportState.Mapping)
        {
            return pages.Of<ImportRunPage>(context, ImportReports.Run(stored), clock.GetUtcNow());
        }

        try
        {
            return pages.Of<ImportMapPage>(context, await reports.MapAsync(stored, cancellationToken), clock.GetUtcNow());
        }
        catch (Exception error) when (error is UnreadableBodyException or FileNotFoundException or DirectoryNotFoundException)
        {
            string why = error is UnreadableBodyException unreadable ? unreadable.Message + " " + unreadable.Mend : "Upload it again.";
            return Problems.Invalid("file", "unreadable", "The uploaded file cannot be read.", why);
        }
    }

    private static async Task<IResult> ChangeAsync(
        long id, HttpContext context, IAntiforgery forms, ImportReports reports, ImportSheetQueries queries, MappingQueries mappings, ImportRuns runs, CancellationToken cancellationToken)
    {
        IFormCollection form = await ImportForm.ReadAsync(context, forms, cancellationToken);
        if (await queries.FindAsync(Owner(context), id, cancellationToken) is not { } stored)
        {
            return NoSheet(id);
        }

        if (ImportKinds.Find(stored.Kind)!.IsRegistry && !MayManage(context))
        {
            return Problems.Status(StatusCodes.Status403Forbidden, "Sheets of the registry need the ability manage.");
        }

        switch (form["act"].ToString())
        {
            case "forget":
                await runs.ForgetAsync(stored);
                return SeeOther(context, Urls.Import);
            case "stop":
                await queries.MoveAsync(id, ImportState.Running, ImportState.Stopped);
                break;
            case "go-on":
                await queries.MoveAsync(id, stored.State is ImportState.Failed ? ImportState.Failed : ImportState.Stopped, ImportState.Running);
                runs.Wake();
                break;
            case "map" when stored.State != ImportState.Running:
                await queries.MoveAsync(id, stored.State, ImportState.Mapping);
                break;
            case var act when stored.State == ImportState.Mapping:
                if (await KeepMappingAsync(form, stored, queries, mappings, cancellationToken) is { } problem)
                {
                    return problem;
                }

                return act == "start" ? await TakeInAsync(context, id, reports, queries, runs, cancellationToken) : SeeOther(context, Urls.ImportSheet(id));
        }

        return SeeOther(context, Urls.ImportSheet(id));
    }

    private static async Task<ProblemResult?> KeepMappingAsync(
        IFormCollection form, StoredSheet stored, ImportSheetQueries queries, MappingQueries mappings, CancellationToken cancellationToken)
    {
        ImportMapping mapping = ImportForm.Mapping(form, stored.Kind);
        if (MappingRules.Check(mapping) is { Count: > 0 } problems)
        {
            return Problems.Invalid(problems);
        }

        string name = form["remember"].ToString().Trim();
        if (name.Length > 0 && !Codes.IsValid(name))
        {
            return Problems.Invalid("remember", "code", "A mapping's name has 1 to 64 printable characters.", "Choose another name.");
        }

        // Another sheet of the workbook has headings of its own, which are guessed anew.
        ImportMapping? before = stored.Mapping is null ? null : JsonSerializer.Deserialize<ImportMapping>(stored.Mapping, Json.Options);
        await queries.MapAsync(stored.Id, JsonSerializer.Serialize(before?.Sheet is { } old && mapping.Sheet is { } now && old != now ? mapping with { Columns = before.Columns } : mapping, Json.Options));
        if (name.Length > 0)
        {
            await mappings.PutAsync(name, mapping, cancellationToken);
        }

        return null;
    }

    private static async Task<IResult> TakeInAsync(
        HttpContext context, long id, ImportReports reports, ImportSheetQueries queries, ImportRuns runs, CancellationToken cancellationToken)
    {
        StoredSheet stored = (await queries.FindAsync(Owner(context), id, cancellationToken))!;
        ImportMapReport report = await reports.MapAsync(stored, cancellationToken);
        if (report.MayStart)
        {
            await queries.StartAsync(id, report.Rows);
            runs.Wake();
            // A short one is through by then: its result comes at once.
            for (TimeSpan waited = TimeSpan.Zero; waited < WaitForShortOnes; waited += TimeSpan.FromMilliseconds(50))
            {
                await Task.Delay(50, cancellationToken);
                if ((await queries.FindAsync(Owner(context), id, cancellationToken))?.State != ImportState.Running)
                {
                    break;
                }
            }
        }

        return SeeOther(context, Urls.ImportSheet(id));
    }

    private static async Task<IResult> RefusedAsync(long id, HttpContext context, ImportSheetQueries queries, ImportFiles files, CancellationToken cancellationToken) =>
        await queries.FindAsync(Owner(context), id, cancellationToken) is { Refused: > 0 } stored && File.Exists(files.RefusedOf(stored.StoredName))
            ? Results.Bytes(await Shared(files.RefusedOf(stored.StoredName), stored.RefusedBytes, cancellationToken), Csv.ContentType, Path.GetFileNameWithoutExtension(stored.FileName) + "-refused.csv")
            : NoSheet(id);

    private static IResult Template(string file, HttpRequest request)
    {
        string extension = Path.GetExtension(file);
        return ImportKinds.Find(Path.GetFileNameWithoutExtension(file)) is not { } kind || extension is not (".xlsx" or ".csv")
            ? Problems.NotFound("template", file)
            : extension == ".csv"
            ? Results.Text(ImportTemplates.Text(kind, Csv.FormOf(request) ?? CsvForm.Standard), Csv.ContentType)
            : Results.Bytes(ImportTemplates.Workbook(kind), "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", $"washwear-{kind.Name}.xlsx");
    }

    private static async Task<IResult> ForgetMappingAsync(string mapping, HttpContext context, IAntiforgery forms, MappingQueries mappings, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        await mappings.DeleteAsync(mapping, cancellationToken);
        return SeeOther(context, Urls.Import);
    }

    // The file may be written to at this moment; what goes with the counts is given.
    private static async Task<byte[]> Shared(string path, long most, CancellationToken cancellationToken)
    {
        await using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        byte[] bytes = new byte[Math.Min(most, file.Length)];
        await file.ReadExactlyAsync(bytes, cancellationToken);
        return bytes;
    }

    private static string? ErrorOf(IFormFile? file, ImportKind? kind, NamedMapping? named, string source, bool mayManage, Settings settings) =>
        file is null || file.Length == 0 ? "Choose a file that is not empty."
        : file.Length > settings.ImportLimitBytes ? $"It is larger than {settings.ImportLimitBytes / 1024 / 1024} MiB (import_limit_mib)."
        : kind is null ? "Say what its rows are."
        : named is not null && named.Reads.Kind != kind.Name ? $"The mapping '{named.Mapping}' is for another kind of rows."
        : kind.IsRegistry && !mayManage ? "Your key may send records, but not change the registry."
        : source.Length > LongestSource || source.Any(char.IsControl) ? "The name of the source has 1 to 64 printable characters."
        : null;

    private static string NameOf(IFormFile file)
    {
        string name = string.Concat(Path.GetFileName(file.FileName.Replace('\\', '/')).Where(letter => !char.IsControl(letter)));
        return name.Length == 0 ? "sheet" : name.Length > LongestName ? name[^LongestName..] : name;
    }

    private static string Owner(HttpContext context) => context.User.Identity?.Name ?? "unknown";

    private static bool MayManage(HttpContext context) => context.User.May(Abilities.Manage);

    private static ProblemResult NoSheet(long id) => Problems.NotFound("uploaded sheet", id.ToString(System.Globalization.CultureInfo.InvariantCulture));

    private static IResult SeeOther(HttpContext context, string where)
    {
        context.Response.Headers.Location = where;
        return Results.StatusCode(StatusCodes.Status303SeeOther);
    }
}
