using Microsoft.AspNetCore.Authorization;
using Washwear.Api.Http;
using Washwear.Api.Storage;

namespace Washwear.Api.Audit;

/// <summary>Notes requests to audited routes. Stands between authentication, which says who it is, and authorization, which may refuse.</summary>
/// <param name="next">The rest of the pipeline.</param>
/// <param name="audit">The audit.</param>
public sealed class AuditedRequests(RequestDelegate next, AuditLog audit)
{
    private const int ClientClosedRequest = 499;

    /// <summary>Handles one request.</summary>
    /// <param name="context">The request.</param>
    public Task InvokeAsync(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return context.GetEndpoint() is RouteEndpoint route && route.Metadata.GetMetadata<AuditedRoute>() is { } audited
            && (context.User.Identity?.IsAuthenticated == true || route.Metadata.GetMetadata<IAllowAnonymous>() is not null)
            ? NoteAsync(context, route, audited)
            : next(context);
    }

    // The outcome is written before the first byte of the answer leaves: whoever was told has an entry.
    private async Task NoteAsync(HttpContext context, RouteEndpoint route, AuditedRoute audited)
    {
        string? about = route.RoutePattern.Parameters is [var first, ..] ? context.Request.RouteValues[first.Name]?.ToString() : null;
        AuditNote note = audit.Begin(new AuditEntry(AuditCaller.Of(context.User), audited.Action)
        {
            Method = context.Request.Method,
            Route = "/" + route.RoutePattern.RawText?.TrimStart('/'),
            AboutKind = about is null ? null : audited.Action.Split('.')[0],
            About = about,
            Address = context.Connection.RemoteIpAddress?.ToString(),
            Trace = Problems.TraceOf(context),
        });
        context.Response.OnStarting(() => EndAsync(note, context.Response.StatusCode));
        try
        {
            await next(context);
        }
        catch (OperationCanceledException) when (context.RequestAborted.IsCancellationRequested)
        {
            await EndAsync(note, ClientClosedRequest);
            throw;
        }
        finally
        {
            WriteCompanion.Current = null;
        }
    }

    // Who tries again too often is told to wait, and nothing more is written of him.
    private Task EndAsync(AuditNote note, int status)
    {
        if (status != StatusCodes.Status429TooManyRequests)
        {
            return audit.EndAsync(note, status);
        }

        note.Settle();
        return Task.CompletedTask;
    }
}
