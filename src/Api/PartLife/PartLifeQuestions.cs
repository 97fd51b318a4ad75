using System.Globalization;
using Washwear.Api.Http;
using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>Reads what a reader of part life asks for.</summary>
internal static class PartLifeQuestions
{
    private const int MostAges = 20;

    /// <summary>The question; what is wrong with it is noted in the query.</summary>
    /// <param name="position">Code of the position.</param>
    /// <param name="query">The query.</param>
    /// <param name="fromForm">Whether it comes from the page's form, in which a group may be left over from what was compared before.</param>
    public static PartLifeChoice Read(string position, Query query, bool fromForm = false)
    {
        LifeClock? clock = query.Word<LifeClock>("clock");
        string? group = fromForm && query.Text("by") is null ? null : query.Text("group");
        var choice = new PartLifeChoice(position)
        {
            Model = query.Text("model"),
            FailureMode = query.Text("failure_mode"),
            Clock = clock is { } chosen ? FleetLives.Name(chosen) : null,
            Level = query.Between("level", PartLifeChoice.UsualLevel, 0.5, 0.9999),
            By = query.OneOf("by", LifeComparisons.GroupingCodes),
            Group = group,
            Shape = query.Text("shape") is null ? null : query.Between("shape", 1, 0.02, 100),
            At = Ages(query),
            BothBounds = query.OneOf("bounds", ["profile", "both"]) == "both",
        };
        if (group is not null && query.Text("by") is null)
        {
            query.Refuse("group", "needs by", "A group is one of something, which 'by' has to name.", "Give by, such as by=batch, or leave group out.");
        }

        return choice;
    }

    /// <summary>Which parts are asked for.</summary>
    /// <param name="query">The query.</param>
    public static LifeKind Kind(Query query) => query.Word<LifeKind>("kind") ?? LifeKind.All;

    private static List<double> Ages(Query query)
    {
        string[] parts = [.. (query.Text("at") ?? string.Empty).Split([',', ';', ' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)];
        var ages = new List<double>();
        foreach (string part in parts)
        {
            if (!double.TryParse(part, NumberStyles.Float, CultureInfo.InvariantCulture, out double age) || !(age > 0 && age <= 1e9))
            {
                query.Refuse("at", "ages", $"'{part}' is not an age above 0.", "Give ages on the clock, separated by commas, such as 365,730.");
                return [];
            }

            ages.Add(age);
        }

        if (ages.Count > MostAges)
        {
            query.Refuse("at", "ages", $"{ages.Count} ages are too many.", $"Give at most {MostAges} ages.");
            return [];
        }

        return ages;
    }
}
