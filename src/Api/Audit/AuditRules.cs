namespace Washwear.Api.Audit;

/// <summary>Mark on an endpoint: each request to it is noted in the audit.</summary>
/// <param name="Action">A stable word for what it does, such as approval.decide.</param>
public sealed record AuditedRoute(string Action);

/// <summary>Mark on an endpoint that changes something and is not noted in the audit.</summary>
/// <param name="Reason">Why not.</param>
public sealed record NotAuditedRoute(string Reason);

/// <summary>Declares on a route whether its requests are noted in the audit. A route for anything but GET that declares neither fails a test.</summary>
public static class AuditRules
{
    /// <summary>Notes each request: who, when, from where, what it was about and how it ended.</summary>
    /// <remarks>What it was about is the first value of the route, unless the handler says it by <see cref="AuditNote.Current"/>.</remarks>
    /// <typeparam name="T">A route.</typeparam>
    /// <param name="route">The route.</param>
    /// <param name="action">A stable word: the thing, a dot, what is done with it, such as approval.decide.</param>
    public static T Audited<T>(this T route, string action)
        where T : IEndpointConventionBuilder => route.WithMetadata(new AuditedRoute(action));

    /// <summary>Notes no request.</summary>
    /// <typeparam name="T">A route.</typeparam>
    /// <param name="route">The route.</param>
    /// <param name="reason">Why not, as a sentence.</param>
    public static T NotAudited<T>(this T route, string reason)
        where T : IEndpointConventionBuilder => route.WithMetadata(new NotAuditedRoute(reason));
}
