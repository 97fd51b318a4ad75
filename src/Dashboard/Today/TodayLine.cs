namespace Washwear.Dashboard.Today;

/// <summary>One thing that needs somebody: what, why, since when, and the one next step.</summary>
/// <param name="Role">Whom it needs.</param>
/// <param name="Sentence">What is the matter, in one sentence.</param>
/// <param name="Reason">Why it stands here, or what follows from it, in one or two sentences.</param>
/// <param name="Since">Since when, the longest of what the line speaks of; null where that is not known or does not matter.</param>
/// <param name="On">The day that it is planned for or due on; null where there is none.</param>
/// <param name="Count">How many things the line speaks of.</param>
/// <param name="Items">The first of them, the longest or the most costly first; at most four.</param>
/// <param name="Action">The next step, in a few words.</param>
/// <param name="Href">Where it is taken.</param>
public sealed record TodayLine(
    TodayRole Role,
    string Sentence,
    string Reason,
    DateTimeOffset? Since,
    DateOnly? On,
    int Count,
    IReadOnlyList<TodayItem> Items,
    string Action,
    string Href)
{
    /// <summary>Most items of a line.</summary>
    public const int MostItems = 4;
}

/// <summary>One of the things that a line speaks of.</summary>
/// <param name="Name">What it is, such as an asset tag.</param>
/// <param name="Note">What is to be known of it, in a few words.</param>
/// <param name="Href">Its page.</param>
public sealed record TodayItem(string Name, string Note, string Href);

/// <summary>Whom something needs.</summary>
public enum TodayRole
{
    /// <summary>A technician, on the way to units.</summary>
    Technician,

    /// <summary>Whoever manages the service: what fails again, what waits for a decision.</summary>
    Service,

    /// <summary>The operator of many kitchens.</summary>
    Operator,

    /// <summary>Whoever plans visits, swaps and stock.</summary>
    Planner,
}
