namespace Washwear.Dashboard.Visits;

/// <summary>Names of the form's fields: codes are escaped, so that a draft fits the form again whatever has been added to the
/// model.</summary>
public static class CloseOutFields
{
    /// <summary>Key of the close-out.</summary>
    public const string Key = "key";

    /// <summary>Asset tag of the unit.</summary>
    public const string Unit = "unit";

    /// <summary>Name of the person who was signed in when the form was opened.</summary>
    public const string SavedBy = "saved_by";

    /// <summary>Key of the visit that was asked for and is closed by this one.</summary>
    public const string Replaces = "replaces";

    /// <summary>Key of the close-out that this one corrects.</summary>
    public const string Corrects = "corrects";

    /// <summary>Faults that the visit is for; comes once for each.</summary>
    public const string Fault = "fault";

    /// <summary>When the visit was asked for.</summary>
    public const string Asked = "asked";

    /// <summary>Since when a fault is shown that is told with a visit that is asked for.</summary>
    public const string Since = "since";

    /// <summary>When work began.</summary>
    public const string Arrived = "arrived";

    /// <summary>When work ended.</summary>
    public const string Left = "left";

    /// <summary>Who came.</summary>
    public const string Technician = "technician";

    /// <summary>How the visit ended.</summary>
    public const string Outcome = "outcome";

    /// <summary>What has to be approved, where the visit waits for that.</summary>
    public const string AskWhat = "ask/what";

    /// <summary>What it will cost.</summary>
    public const string AskAmount = "ask/amount";

    /// <summary>Words of the technician.</summary>
    public const string Note = "note";

    /// <summary>Photos.</summary>
    public const string Photo = "photo";

    /// <summary>Choice of a part that was put in and whose number nobody knows.</summary>
    public const string UnknownPart = "?";

    /// <summary>Choice of a part whose number is typed.</summary>
    public const string OtherPart = "other";

    /// <summary>Whether a fault has gone from the unit's display.</summary>
    /// <param name="fault">Code of the fault.</param>
    /// <returns>Name of the field.</returns>
    public static string Cleared(string fault) => "cleared/" + Escape(fault);

    /// <summary>A check; its result, reading and unit of measure are below it.</summary>
    /// <param name="check">Code of the check.</param>
    /// <returns>Name of the group.</returns>
    public static string Check(string check) => "check/" + Escape(check);

    /// <summary>What a check came to.</summary>
    /// <param name="check">Code of the check.</param>
    /// <returns>Name of the field.</returns>
    public static string CheckResult(string check) => Check(check) + "/result";

    /// <summary>A cause that was found.</summary>
    /// <param name="position">Code of the position.</param>
    /// <param name="mode">How it failed.</param>
    /// <param name="cause">Why.</param>
    /// <returns>Name of the field.</returns>
    public static string Found(string position, string? mode, string? cause) =>
        "found/" + Escape(position) + "/" + Escape(mode ?? string.Empty) + "/" + Escape(cause ?? string.Empty);

    /// <summary>A position; what was done there is below it.</summary>
    /// <param name="position">Code of the position.</param>
    /// <returns>Name of the group.</returns>
    public static string Part(string position) => "part/" + Escape(position);

    /// <summary>A proof.</summary>
    /// <param name="proof">Its code.</param>
    /// <returns>Name of the field.</returns>
    public static string Proof(string proof) => "proof/" + Escape(proof);

    /// <summary>The codes in a name, in their order.</summary>
    /// <param name="name">Name of a field or group.</param>
    /// <returns>The parts after the first, unescaped.</returns>
    public static string[] Codes(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return [.. name.Split('/').Skip(1).Select(Uri.UnescapeDataString)];
    }

    private static string Escape(string code) => Uri.EscapeDataString(code);
}
