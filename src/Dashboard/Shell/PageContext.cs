namespace Washwear.Dashboard.Shell;

/// <summary>What every page needs beside its report: who reads it, and how its forms are kept safe.</summary>
/// <param name="AsOf">The instant for which the page holds.</param>
/// <param name="SignedInName">Name of the signed-in reader; null when nobody is signed in.</param>
/// <param name="AntiforgeryField">Name of the hidden form field that carries the antiforgery token.</param>
/// <param name="AntiforgeryToken">The token itself; null where the page has no form that changes anything.</param>
/// <param name="InventedData">Whether the data are invented; the page then says so at its top.</param>
/// <param name="TimeZone">IANA time zone in which instants that belong to no site are shown.</param>
public sealed record PageContext(
    DateTimeOffset AsOf,
    string? SignedInName = null,
    string AntiforgeryField = "__RequestVerificationToken",
    string? AntiforgeryToken = null,
    bool InventedData = false,
    string TimeZone = "Etc/UTC")
{
    /// <summary>Name of the reader as pages show it; null: the name the reader is signed in by.</summary>
    public string? ShownName { get; init; }

    /// <summary>Path and query at which the page was asked for, so that a list links itself in another order with every other choice kept.</summary>
    public string Address { get; init; } = Urls.Today;

    /// <summary>How the reader likes to read.</summary>
    public ReaderPreferences Preferences { get; init; } = ReaderPreferences.Standard;

    /// <summary>Whether the reader administers this installation; the navigation then leads to its people, keys, upkeep and audit.</summary>
    public bool MayAdminister { get; init; }

    /// <summary>Whether the reader may import spreadsheets.</summary>
    public bool MayImport { get; init; }

    /// <summary>Whether the reader may plan, and so share calendars and wall boards.</summary>
    public bool MayPlan { get; init; }
}

/// <summary>Something that a reader can choose in a form.</summary>
/// <param name="Code">Code sent when it is chosen.</param>
/// <param name="Name">Name shown.</param>
public sealed record Choice(string Code, string Name);
