using System.Globalization;

namespace Washwear.Dashboard.Shell;

/// <summary>Shared links and the board.</summary>
public static partial class Urls
{
    /// <summary>Where links are listed and made.</summary>
    public const string SharedLinks = "/links";

    /// <summary>Pattern of where a link is revoked.</summary>
    public const string SharedLinkRevokeRoute = "/links/{id:long}/revoke";

    /// <summary>A screen on a wall, for who has signed in.</summary>
    public const string Board = "/board";

    /// <summary>What addresses that were shared begin with.</summary>
    public const string SharedPrefix = "/shared";

    /// <summary>Pattern of a shared calendar.</summary>
    public const string SharedCalendarRoute = SharedPrefix + "/{token}/calendar.ics";

    /// <summary>Pattern of a shared board.</summary>
    public const string SharedBoardRoute = SharedPrefix + "/{token}/board";

    /// <summary>Where a link is revoked.</summary>
    /// <param name="id">Its number.</param>
    public static string SharedLinkRevoke(long id) => $"/links/{id.ToString(CultureInfo.InvariantCulture)}/revoke";
}
