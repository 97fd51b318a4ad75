using Washwear.Api.Security;
using Washwear.Dashboard.People;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Accounts;

/// <summary>People, sessions, invitations and keys as answers and pages show them.</summary>
internal static class Entries
{
    public static PersonEntry Of(Person person) => new(
        person.Id, person.Login, person.Name, Words(person.Abilities), Grant.Entry(person.Scope), person.HasPassword, person.CreatedAt, person.DisabledAt);

    public static SessionEntry Of(Session session) => new(
        session.Id, session.PersonId, session.Name, session.CreatedAt, session.SeenAt, session.Address, session.Agent);

    public static InvitationEntry Of(PersonLink link, string? address = null) => new(
        link.Id, link.Note, Words(link.Abilities), Grant.Entry(link.Scope), link.MadeBy, link.MadeAt, link.ExpiresAt, address);

    public static KeyEntry Of(ApiKey key, string? secret = null) => new(
        key.Name, Words(key.Abilities), Grant.Entry(key.Scope), key.CreatedAt, key.RevokedAt, secret);

    /// <summary>The address of a link for somebody else: by the address that people reach the service by, else the one of the request.</summary>
    public static string LinkOf(string token, Settings settings, HttpRequest request) =>
        (settings.GivenPublicUrl ?? $"{request.Scheme}://{request.Host}") + Urls.Join(token);

    private static IReadOnlyList<string> Words(Abilities abilities) => [.. AbilityRules.Words(abilities)];
}
