using System.Data.Common;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.Data.Sqlite;
using Washwear.Api.Storage;

namespace Washwear.Api.Http;

/// <summary>Turns whatever an endpoint throws into a problem; the text of an exception goes to the log alone.</summary>
/// <param name="next">The rest of the pipeline.</param>
/// <param name="log">The log.</param>
public sealed class RequestErrors(RequestDelegate next, ILogger<RequestErrors> log)
{
    private const int SqliteBusy = 5;
    private const int ClientClosedRequest = 499;
    private const string StaleForm = "The form is too old or came from elsewhere. Open the page again and resend.";

    /// <summary>Handles one request.</summary>
    /// <param name="context">The request.</param>
    public async Task InvokeAsync(HttpContext context)
    {
        try
        {
            await next(context);
        }
        catch (OperationCanceledException) when (context.RequestAborted.IsCancellationRequested)
        {
            context.Response.StatusCode = ClientClosedRequest;
        }
        catch (Exception error) when (!context.Response.HasStarted)
        {
            ProblemResult problem = Describe(error);
            if (problem.Problem.Status >= 500)
            {
                log.LogError(error, "Request failed, trace {Trace}", Problems.TraceOf(context));
            }

            context.Response.Clear();
            SecurityHeaders.Set(context);
            await problem.ExecuteAsync(context);
        }
    }

    /// <summary>Gives an answer that is a bare status code the shape of a problem.</summary>
    /// <param name="status">The status code.</param>
    public static Task DescribeStatusAsync(StatusCodeContext status)
    {
        HttpContext context = status.HttpContext;
        int code = context.Response.StatusCode;
        bool isStaleForm = code == StatusCodes.Status400BadRequest && context.Features.Get<IAntiforgeryValidationFeature>() is { IsValid: false };
        return Problems.Status(code, isStaleForm ? StaleForm : null).ExecuteAsync(context);
    }

    private static ProblemResult Describe(Exception error) => error switch
    {
        BadHttpRequestException { StatusCode: 413 } => Problems.Status(413),
        BadHttpRequestException bad => Problems.Status(bad.StatusCode is >= 400 and < 500 ? bad.StatusCode : 400),
        AntiforgeryValidationException => Problems.Status(400, StaleForm),
        InvalidDataException => Problems.Status(400),
        SqliteException { SqliteErrorCode: SqliteBusy } or DatabaseBusyException => Problems.Status(503),
        DbException fault when DatabaseFault.StatusOf(fault) is { } status => Problems.Status(status, DatabaseFault.InWords(fault)),
        _ => Problems.Status(500),
    };
}
