namespace Washwear.Dashboard.Account;

/// <summary>What somebody is signed in with, as far as its reader needs it to know it again.</summary>
public enum SessionDevice
{
    /// <summary>A phone.</summary>
    Phone,

    /// <summary>A computer or a tablet: they say the same of themselves.</summary>
    Computer,

    /// <summary>No browser.</summary>
    Program,

    /// <summary>It said nothing of itself.</summary>
    NotTold,
}

/// <summary>Tells devices apart by what browsers say of themselves. That is long, says more than anybody wants to read and names what nobody asked for, so
/// it stays with the record of the session.</summary>
internal static class SessionDevices
{
    // Browsers of phones say this word, and all browsers what they run on in brackets; programs say their name and number.
    private const string Phone = "Mobi";
    private const char RunsOn = '(';

    public static SessionDevice Of(string agent) =>
        agent.Length == 0 ? SessionDevice.NotTold
        : agent.Contains(Phone, StringComparison.Ordinal) ? SessionDevice.Phone
        : agent.Contains(RunsOn, StringComparison.Ordinal) ? SessionDevice.Computer
        : SessionDevice.Program;
}
