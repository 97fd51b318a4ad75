using System.Globalization;

namespace Washwear.Dashboard.Shell;

/// <summary>Links to people, keys and one's own account.</summary>
public static partial class Urls
{
    /// <summary>Where a form signs in with a key (POST).</summary>
    public const string SignInWithKey = "/sign-in/key";

    /// <summary>Where the sign-in of a company sends the browser back to.</summary>
    public const string SignInWithCompany = "/sign-in/company";

    /// <summary>Where signing in with the account of a company begins.</summary>
    public const string SignInWithCompanyRoute = "/sign-in/company/start";

    /// <summary>Where a link leads that invites, or lets a person set a new password (GET shows the form, POST takes it).</summary>
    public const string JoinRoute = "/join";

    /// <summary>One's own account: sessions and password.</summary>
    public const string Account = "/account";

    /// <summary>Where a form keeps how one likes to read (POST).</summary>
    public const string AccountPreferences = "/account/preferences";

    /// <summary>Where a form changes one's own password (POST).</summary>
    public const string AccountPassword = "/account/password";

    /// <summary>Where a form ends one of one's own sessions, or all others (POST).</summary>
    public const string AccountSessions = "/account/sessions";

    /// <summary>People and invitations.</summary>
    public const string People = "/people";

    /// <summary>Where a form makes an invitation (POST).</summary>
    public const string Invitations = "/people/invitations";

    /// <summary>Where a form takes an invitation back (POST).</summary>
    public const string InvitationWithdrawRoute = "/people/invitations/{id:long}/withdraw";

    /// <summary>Route of a person's page (GET shows it, POST changes the person).</summary>
    public const string PersonRoute = "/people/{id:long}";

    /// <summary>Where a form makes a link by which a person can set a new password (POST).</summary>
    public const string PersonPasswordLinkRoute = "/people/{id:long}/password-link";

    /// <summary>Where a form ends sessions of a person (POST).</summary>
    public const string PersonSessionsRoute = "/people/{id:long}/sessions";

    /// <summary>Keys (GET lists them, POST makes one).</summary>
    public const string Keys = "/keys";

    /// <summary>Where a form revokes a key (POST).</summary>
    public const string KeyRevoke = "/keys/revoke";

    /// <summary>All people as a file.</summary>
    public static string PeopleCsv => Query("/v1/people", ("format", "csv"));

    /// <summary>All keys as a file.</summary>
    public static string KeysCsv => Query("/v1/keys", ("format", "csv"));

    /// <summary>A link that invites, or lets a person set a new password.</summary>
    /// <param name="token">Its token.</param>
    /// <returns>The address, without its host.</returns>
    public static string Join(string token) => Query(JoinRoute, ("token", token));

    /// <summary>Where signing in with the account of a company begins.</summary>
    /// <param name="returnTo">Path of the page to go to afterwards; null: the first page.</param>
    /// <returns>The address.</returns>
    public static string SignInWithCompanyFrom(string? returnTo) => Query(SignInWithCompanyRoute, ("return_to", returnTo));

    /// <summary>A person's page.</summary>
    /// <param name="id">Number of the person.</param>
    /// <returns>The address.</returns>
    public static string Person(long id) => WithId(PersonRoute, id);

    /// <summary>Where a form makes a link by which a person can set a new password.</summary>
    /// <param name="id">Number of the person.</param>
    /// <returns>The address.</returns>
    public static string PersonPasswordLink(long id) => WithId(PersonPasswordLinkRoute, id);

    /// <summary>Where a form ends sessions of a person.</summary>
    /// <param name="id">Number of the person.</param>
    /// <returns>The address.</returns>
    public static string PersonSessions(long id) => WithId(PersonSessionsRoute, id);

    /// <summary>Where a form takes an invitation back.</summary>
    /// <param name="id">Number of the invitation.</param>
    /// <returns>The address.</returns>
    public static string InvitationWithdraw(long id) => WithId(InvitationWithdrawRoute, id);

    private static string WithId(string route, long id) => Fill(route, id.ToString(CultureInfo.InvariantCulture));
}
