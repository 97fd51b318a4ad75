using System.Security.Claims;
using Washwear.Api.Security;
using Washwear.Dashboard.Audit;

namespace Washwear.Api.Audit;

/// <summary>Who did something.</summary>
/// <param name="Kind">What kind of caller.</param>
/// <param name="Id">Number of the key or person; null: neither.</param>
/// <param name="Name">The name at that time; null: not known.</param>
public sealed record AuditCaller(CallerKind Kind, long? Id, string? Name)
{
    /// <summary>The program itself.</summary>
    public static AuditCaller System { get; } = new(CallerKind.System, null, null);

    /// <summary>Nobody who is known.</summary>
    public static AuditCaller Stranger { get; } = new(CallerKind.Stranger, null, null);

    /// <summary>Whoever runs a command on this machine.</summary>
    public static AuditCaller Command { get; } = new(CallerKind.Command, null, Environment.UserName);

    /// <summary>The caller of a request.</summary>
    /// <param name="user">Who is signed in, or whose key was sent.</param>
    public static AuditCaller Of(ClaimsPrincipal user)
    {
        ArgumentNullException.ThrowIfNull(user);
        return Authentication.PersonIdOf(user) is { } person ? new AuditCaller(CallerKind.Person, person, user.Identity?.Name)
            : Authentication.KeyIdOf(user) is > 0 and var id ? new AuditCaller(CallerKind.Key, id, user.Identity?.Name) : Stranger;
    }

    /// <summary>A person.</summary>
    /// <param name="person">The person.</param>
    public static AuditCaller Of(Person person)
    {
        ArgumentNullException.ThrowIfNull(person);
        return new AuditCaller(CallerKind.Person, person.Id, person.Login);
    }

    /// <summary>A key.</summary>
    /// <param name="key">The key.</param>
    public static AuditCaller Of(ApiKey key)
    {
        ArgumentNullException.ThrowIfNull(key);
        return new AuditCaller(CallerKind.Key, key.Id, key.Name);
    }
}
