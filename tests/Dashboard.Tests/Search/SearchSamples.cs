using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Search;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Search;

/// <summary>What searches found, for the tests of pages.</summary>
internal static class SearchSamples
{
    private static readonly SearchHit Oven = new(
        SearchKind.Unit, "OV-1004", "Pier 4", "Asset tag 'OV-1004' begins with 'OV-1'", "Overdue", Urls.Unit("OV-1004"), CleaningState.Overdue);

    private static readonly SearchHit Fault = new(
        SearchKind.Fault, "E21", "No water circulates", "Code 'E21' contains '1'", "Raised at 2 units now; locks out washing", "/failures/records?code=E21");

    private static readonly SearchHit Bad = new(
        SearchKind.Unit, Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name, Urls.Unit(Hostile.Name), CleaningState.Silent);

    public static SearchReport Full { get; } = new(
        Samples.Today.Basis, "OV-1", "12 units and 1 fault code match 'OV-1'.", 13, null,
        [new SearchGroup(SearchKind.Unit, 12, [Oven]), new SearchGroup(SearchKind.Fault, 1, [Fault])], []);

    public static SearchReport OneKind { get; } = Full with { Groups = [Full.Groups[0]] };

    public static SearchReport Nothing { get; } = Full with { Sentence = "Nothing matches 'OV-1'; these are spelled most alike.", Total = 0, Groups = [], Nearest = [Oven, Fault] };

    public static SearchReport Empty { get; } = Full with { Query = "", Sentence = "Find a unit.", Total = 0, Groups = [] };

    public static SearchReport HostileFind { get; } = new(
        Samples.Today.Basis, Hostile.Name, Hostile.Name, int.MaxValue, null, [new SearchGroup(SearchKind.Unit, int.MaxValue, [Bad])], [Bad]);
}
