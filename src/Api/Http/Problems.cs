using System.Diagnostics;
using System.Text.Json.Serialization;

namespace Washwear.Api.Http;

/// <summary>Why a request was not done, as RFC 9457 describes it.</summary>
/// <param name="Type">Stable name of the kind of problem.</param>
/// <param name="Title">The kind of problem in a few words.</param>
/// <param name="Status">HTTP status code.</param>
/// <param name="Detail">What is wrong with this request and what to do.</param>
/// <param name="Instance">Path of the request.</param>
/// <param name="TraceId">What to quote when asking about it; the log has the rest.</param>
/// <param name="Errors">The fields that are wrong; left out when it is not about fields.</param>
public sealed record Problem(
    string Type,
    string Title,
    int Status,
    string Detail,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Instance = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? TraceId = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<FieldProblem>? Errors = null);

/// <summary>One thing that is wrong in what was sent.</summary>
/// <param name="Field">Where: the path of the field, such as sites[3].time_zone.</param>
/// <param name="Rule">Short stable name of the rule that it breaks.</param>
/// <param name="Detail">What is wrong.</param>
/// <param name="Mend">What to do about it.</param>
public sealed record FieldProblem(string Field, string Rule, string Detail, string Mend);

/// <summary>The only maker of problem details.</summary>
public static class Problems
{
    /// <summary>Media type of every problem.</summary>
    public const string ContentType = "application/problem+json";

    private const int MostErrorsListed = 200;
    private const string NamePrefix = "urn:washwear:problem:";

    /// <summary>What was sent breaks rules; at most 200 are listed.</summary>
    /// <param name="errors">What is wrong, at least one.</param>
    public static ProblemResult Invalid(IReadOnlyList<FieldProblem> errors)
    {
        string count = errors.Count == 1 ? "One thing is wrong" : $"{errors.Count} things are wrong";
        return new(Of(400, $"{count}; nothing was stored. Mend what errors lists and send it again.") with
        {
            Type = Name("invalid"),
            Title = "What was sent breaks a rule",
            Errors = [.. errors.Take(MostErrorsListed)],
        });
    }

    /// <summary>One field breaks a rule.</summary>
    /// <param name="field">Field or query parameter.</param>
    /// <param name="rule">Name of the rule.</param>
    /// <param name="detail">What is wrong.</param>
    /// <param name="mend">What to do.</param>
    public static ProblemResult Invalid(string field, string rule, string detail, string mend) =>
        Invalid([new FieldProblem(field, rule, detail, mend)]);

    /// <summary>There is no such thing.</summary>
    /// <param name="kind">Kind of thing, such as unit.</param>
    /// <param name="code">The code asked for.</param>
    public static ProblemResult NotFound(string kind, string code) =>
        new(Of(404, $"There is no {kind} '{code}'. Codes are compared without case; the list of {kind}s shows what there is."));

    /// <summary>A problem told by its status alone.</summary>
    /// <param name="status">HTTP status code.</param>
    /// <param name="detail">What is wrong and what to do; null: what usually is.</param>
    public static ProblemResult Status(int status, string? detail = null) => new(Of(status, detail));

    /// <summary>The kind of a problem in one word, as the texts of pages name it.</summary>
    /// <param name="problem">The problem.</param>
    internal static string KindOf(Problem problem) => problem.Type[NamePrefix.Length..].Replace('-', '_');

    /// <summary>Whether a problem says no more than every problem of its status does.</summary>
    /// <param name="problem">The problem.</param>
    internal static bool IsUsual(Problem problem) => problem.Detail == Of(problem.Status, null).Detail;

    /// <summary>Writes a problem as the answer, with the path and trace of the request.</summary>
    /// <param name="context">The request.</param>
    /// <param name="problem">The problem.</param>
    public static Task WriteAsync(HttpContext context, Problem problem)
    {
        context.Response.StatusCode = problem.Status;
        context.Response.Headers.CacheControl = "no-store";
        if (RetryAfterSeconds(problem.Status) is { } seconds && context.Response.Headers.RetryAfter.Count == 0)
        {
            context.Response.Headers.RetryAfter = seconds;
        }

        Problem full = problem with { Instance = context.Request.Path.Value, TraceId = TraceOf(context) };
        if (Pages.IsForPerson(context.Request))
        {
            return context.RequestServices.GetRequiredService<Pages>().Of(context, full).ExecuteAsync(context);
        }

        return context.Response.WriteAsJsonAsync(full, Json.Options, ContentType, context.RequestAborted);
    }

    /// <summary>Identifier of the request in the log.</summary>
    /// <param name="context">The request.</param>
    public static string TraceOf(HttpContext context) => Activity.Current?.TraceId.ToHexString() ?? context.TraceIdentifier;

    // A busy database is free in a moment; room on a disk is made by people.
    private static string? RetryAfterSeconds(int status) => status switch
    {
        503 => "2",
        507 => "60",
        _ => null,
    };

    private static Problem Of(int status, string? detail)
    {
        (string name, string title, string usual) = status switch
        {
            400 => ("bad-request", "The request cannot be read", "The request could not be read; openapi.yaml says what is expected."),
            401 => ("not-signed-in", "A key is needed", "Send a key: 'Authorization: Bearer KEY'. People sign in at /sign-in."),
            403 => ("not-allowed", "The key may not do this", "This key lacks the ability; 'keys add' makes one that has it."),
            404 => ("not-found", "There is nothing here", "Nothing answers at this address; /reference lists what there is."),
            405 => ("method", "The address does not take this method", "The Allow header lists the methods that it takes."),
            406 => ("not-acceptable", "It cannot be given in that form", "Ask for application/json, or for text/csv where it is a list."),
            409 => ("conflict", "It contradicts what is stored", "What was sent contradicts what is stored; read it again first."),
            413 => ("too-large", "The request is too large", "Send it in several smaller requests; request_limit_mib is the limit."),
            415 => ("media-type", "The body is of a kind that is not read here", "Set Content-Type to one that openapi.yaml lists here."),
            422 => ("key-reused", "The key belongs to another request", "Send this request with a key of its own."),
            429 => ("too-many", "Too much at once", "Wait as long as the Retry-After header says."),
            503 => ("busy", "The database cannot take it now", "Nothing was stored. Send the same request again in a moment."),
            507 => ("no-room", "The disk is full", "Nothing was stored. Make room on the disk of the database, then send the same request again."),
            _ => ("failure", "Something went wrong here", "It is not your fault. Quote trace_id to whoever keeps the service."),
        };
        return new Problem(Name(name), title, status, detail ?? usual);
    }

    private static string Name(string name) => NamePrefix + name;
}

/// <summary>A problem as the outcome of an endpoint.</summary>
/// <param name="Problem">The problem.</param>
public sealed record ProblemResult(Problem Problem) : IResult, IStatusCodeHttpResult
{
    /// <inheritdoc/>
    public int? StatusCode => Problem.Status;

    /// <inheritdoc/>
    public Task ExecuteAsync(HttpContext httpContext) => Problems.WriteAsync(httpContext, Problem);
}
