using System.Buffers;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.Net.Http.Headers;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Addresses of photos of visits.</summary>
internal static class PhotoEndpoints
{
    private const string Types = "JPEG, PNG or WebP";

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGroup("/v1/visits/{key}/photos").RequireAbility(Abilities.Read).WithTags("Visits")
            .MapGet("/{number:int}", ReadAsync)
            .Produces(StatusCodes.Status200OK, null, "image/jpeg", "image/png", "image/webp")
            .WithSummary("A photo of a visit")
            .WithDescription("Its bytes as they came; number is its place among the visit's photos, from 1. ?source tells senders with the same key apart.");
        routes.MapGroup("/v1/visits/{key}/photos").RequireAbility(Abilities.Work).WithTags("Visits")
            .MapPost(string.Empty, AddAsync)
            .Audited("visit.add_photo")
            .Produces<VisitReport>()
            .WithSummary("Add a photo to a visit")
            .WithDescription(
                $"The body is one photo, {Types}, told by its first bytes; at most {VisitPhoto.MostMebibytes} MiB, {VisitPhoto.Most} a visit. Nothing in it "
                + "is changed, what the camera noted of time and place included. The same photo sent again is kept once. Only photos of one's own "
                + "visits can be added; ?source names the sender if it is not the key's name.");
        routes.MapPost(Urls.VisitPhotosRoute, AddByFormAsync).Audited("visit.add_photo").RequireAbility(Abilities.Work).ExcludeFromDescription();
    }

    private static async Task<IResult> ReadAsync(
        string key, int number, HttpContext context, VisitQueries visits, PhotoQueries photos, CancellationToken cancellationToken)
    {
        string? source = VisitEndpoints.SourceOf(context) ?? context.User.Identity?.Name;
        if (number < 1
            || await visits.FindAsync(VisitEndpoints.KeyOf(key), source, cancellationToken) is not { } visit
            || await photos.ReadAsync(visit.Source, visit.Key, number, cancellationToken) is not { } photo)
        {
            return Problems.NotFound("photo", key + "/" + number.ToString(System.Globalization.CultureInfo.InvariantCulture));
        }

        context.Response.Headers.CacheControl = "private, no-cache";
        context.Response.Headers.ContentDisposition = "inline";
        return TypedResults.Bytes(photo.Body, photo.Kind, entityTag: new EntityTagHeaderValue('"' + photo.Sha256 + '"'));
    }

    private static async Task<IResult> AddAsync(
        string key,
        HttpContext context,
        VisitQueries visits,
        PhotoQueries photos,
        VisitReports reports,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        string source = VisitEndpoints.SourceOf(context) ?? context.User.Identity?.Name ?? "unknown";
        if (await OwnAsync(key, source, visits, cancellationToken) is not { } visit)
        {
            return Problems.NotFound("visit", key);
        }

        CloseOutForm.LiftLimit(context, settings);
        if (await BodyAsync(context, cancellationToken) is not { } body)
        {
            return Problems.Status(StatusCodes.Status413PayloadTooLarge, $"A photo may have {VisitPhoto.MostMebibytes} MiB at most; send a smaller one.");
        }

        if (PhotoFile.KindOf(body) is not { } kind)
        {
            return Problems.Invalid("body", PhotoUploads.NoPhoto, "The body does not begin as a photo does.", $"Send the bytes of one file: {Types}.");
        }

        DateTimeOffset now = clock.GetUtcNow();
        return await photos.AddAsync(visit, [(kind, body)], now, cancellationToken) > 0
            ? Problems.Invalid("body", PhotoUploads.TooMany, $"The visit has {VisitPhoto.Most} photos already.", "Leave this one out.")
            : TypedResults.Ok(await reports.AssembleAsync(VisitEndpoints.KeyOf(key), source, now, cancellationToken));
    }

    private static async Task<IResult> AddByFormAsync(
        string key,
        HttpContext context,
        IAntiforgery forms,
        VisitQueries visits,
        PhotoUploads uploads,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        IFormCollection form = await CloseOutForm.ReadAsync(context, forms, settings, cancellationToken);
        if (await OwnAsync(key, context.User.Identity?.Name ?? "unknown", visits, cancellationToken) is not { } visit)
        {
            return Problems.NotFound("visit", key);
        }

        IReadOnlyList<string> leftOut = await uploads.KeepAsync(visit, form.Files.GetFiles(CloseOutFields.Photo), clock.GetUtcNow(), cancellationToken);
        context.Response.Headers.Location = Urls.Visit(VisitEndpoints.KeyOf(key), leftOut.Count == 0 ? "photos" : "looked", leftOut);
        return Results.StatusCode(StatusCodes.Status303SeeOther);
    }

    private static async Task<VisitRow?> OwnAsync(string key, string source, VisitQueries visits, CancellationToken cancellationToken) =>
        await visits.FindAsync(VisitEndpoints.KeyOf(key), source, cancellationToken) is { } visit && visit.Source == source ? visit : null;

    // No more is read than a photo may have; null: there is more.
    private static async Task<byte[]?> BodyAsync(HttpContext context, CancellationToken cancellationToken)
    {
        using var copy = new MemoryStream();
        byte[] buffer = ArrayPool<byte>.Shared.Rent(81920);
        try
        {
            int read;
            while ((read = await context.Request.Body.ReadAsync(buffer, cancellationToken)) > 0)
            {
                if (copy.Length + read > PhotoFile.MostBytes)
                {
                    return null;
                }

                copy.Write(buffer, 0, read);
            }
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
        }

        return copy.ToArray();
    }
}
