using Washwear.Dashboard.VisitSheets;

namespace Washwear.Dashboard.Shell;

/// <summary>Links to visits.</summary>
public static partial class Urls
{
    /// <summary>Close-outs that are on this phone: drafts, and those that wait for a signal.</summary>
    public const string Visits = "/visits";

    /// <summary>Route of the form that closes a visit (GET shows it, POST saves it).</summary>
    public const string CloseOutRoute = "/visits/new";

    /// <summary>Where a script asks for what a form needs to be sent: its token, and who is signed in.</summary>
    public const string FormTokenRoute = "/visits/form-token";

    /// <summary>Route of a visit's receipt.</summary>
    public const string VisitRoute = "/visits/{key}";

    /// <summary>Route of the form that tells a fault and asks for a visit (GET shows it, POST saves it).</summary>
    public const string AskVisitRoute = "/units/{unit}/ask";

    /// <summary>Where a form adds photos to a visit (POST).</summary>
    public const string VisitPhotosRoute = "/visits/{key}/photos";

    /// <summary>Where a visit that should never have been recorded is withdrawn (POST).</summary>
    public const string VisitWithdrawalRoute = "/visits/{key}/withdrawal";

    /// <summary>The form that closes a visit.</summary>
    /// <param name="unit">Asset tag of the unit.</param>
    /// <param name="fault">Code of the fault that the visit is for; null: those that are open.</param>
    /// <param name="results">Results told already; null: none.</param>
    /// <returns>The address.</returns>
    public static string CloseOut(string unit, string? fault = null, IReadOnlyList<CheckAnswer>? results = null) =>
        Query(CloseOutRoute, [("unit", unit), ("fault", fault), .. Pairs(results ?? [])]);

    /// <summary>The form that tells a fault and asks for a visit.</summary>
    /// <param name="unit">Asset tag of the unit.</param>
    /// <returns>The address.</returns>
    public static string AskVisit(string unit) => Fill(AskVisitRoute, unit);

    /// <summary>The form that corrects a close-out.</summary>
    /// <param name="unit">Asset tag of the unit.</param>
    /// <param name="key">Key of the close-out.</param>
    /// <returns>The address.</returns>
    public static string CorrectCloseOut(string unit, string key) => Query(CloseOutRoute, ("unit", unit), ("corrects", key));

    /// <summary>Where a visit is withdrawn.</summary>
    /// <param name="key">Key of the visit.</param>
    /// <returns>The address.</returns>
    public static string VisitWithdrawal(string key) => Fill(VisitWithdrawalRoute, key);

    /// <summary>A visit's receipt.</summary>
    /// <param name="key">Key of the visit.</param>
    /// <param name="source">Who sent it; null: the reader, else whoever sent one under this key first.</param>
    /// <returns>The address.</returns>
    public static string Visit(string key, string? source = null) => Query(Fill(VisitRoute, key), ("source", source));

    /// <summary>A visit's receipt, with what has just been done.</summary>
    /// <param name="key">Key of the visit.</param>
    /// <param name="done">saved, already_saved, photos, withdrawn or asked.</param>
    /// <param name="leftOut">Rules that files broke, one a file.</param>
    /// <returns>The address.</returns>
    public static string Visit(string key, string done, IReadOnlyCollection<string> leftOut) =>
        Query(Visit(key), ("done", done), ("left_out", string.Join(',', leftOut)));

    /// <summary>Where photos are added to a visit.</summary>
    /// <param name="key">Key of the visit.</param>
    /// <returns>The address.</returns>
    public static string VisitPhotos(string key) => Fill(VisitPhotosRoute, key);

    /// <summary>One photo of a visit.</summary>
    /// <param name="key">Key of the visit.</param>
    /// <param name="source">Who sent the visit.</param>
    /// <param name="number">Its place among the visit's photos, from 1.</param>
    /// <returns>The address.</returns>
    public static string VisitPhoto(string key, string source, int number) => Query(
        Fill("/v1/visits/{key}/photos/{number}", key, number.ToString(System.Globalization.CultureInfo.InvariantCulture)), ("source", source));
}
