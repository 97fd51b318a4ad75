using System.Globalization;
using Washwear.Load.Fleet;

namespace Washwear.Load.Mixed;

/// <summary>A question that is asked again and again, each time a little otherwise.</summary>
/// <param name="Role">Who asks it.</param>
/// <param name="Weight">How often, against the others of the role.</param>
/// <param name="Route">The route, as figures name it.</param>
/// <param name="Path">Its path and query, for one of the units that the asker sees.</param>
/// <param name="IsPaged">Whether the pages that follow are read too.</param>
internal sealed record Question(string Role, int Weight, string Route, Func<FleetUnit, Random, string> Path, bool IsPaged = false);

/// <summary>What managers, planners and other readers ask.</summary>
internal static class Questions
{
    private static readonly string[] Positions = ["wash-pump", "drain-valve", "fill-valve", "delivery-hose", "door-gasket"];
    private static readonly string[] LifeGroups = ["part_number", "batch", "supplier", "model", "region", "water_hardness"];
    private static readonly string[] Clocks = ["days", "washes", "operating_hours"];

    private static readonly Question[] All =
    [
        new("manager", 6, "/", (_, _) => "/"),
        new("manager", 6, "/cleaning", (_, _) => "/cleaning"),
        new("manager", 3, "/v1/cleaning/compliance", (_, random) => $"/v1/cleaning/compliance?by={Any(random, "operator", "site", "model")}&days={Whole(random, 28, 120)}"),
        new("manager", 3, "/failures", (_, random) => $"/failures?window_days={Whole(random, 30, 180)}"),
        new("manager", 2, "/v1/failures/trend", (_, _) => "/v1/failures/trend"),
        new("manager", 2, "/v1/failures/pareto", (_, random) => $"/v1/failures/pareto?pareto={Any(random, "position", "code")}"),
        new("manager", 3, "/part-life", (_, random) => $"/part-life?position={Any(random, Positions)}&clock={Any(random, Clocks)}"),
        new("manager", 4, "/v1/part-life/{position}, by group", (_, random) => $"/v1/part-life/{Any(random, Positions)}?by={Any(random, LifeGroups)}&at={Whole(random, 90, 900)}"),
        new("manager", 2, "/v1/part-life/{position}/modes", (_, random) => $"/v1/part-life/{Any(random, Positions)}/modes"),
        new("manager", 2, "/repairs", (_, _) => "/repairs"),
        new("manager", 2, "/approvals", (_, _) => "/approvals"),
        new("planner", 5, "/planning", (_, _) => "/planning"),
        new("planner", 3, "/v1/plan/visits", (_, _) => "/v1/plan/visits?limit=100"),
        new("planner", 2, "/planning/parts", (_, _) => "/planning/parts"),
        new("planner", 2, "/planning/stock", (_, _) => "/planning/stock"),
        new("planner", 2, "/planning/forecast", (_, random) => $"/planning/forecast?days={Whole(random, 30, 180)}"),
        new("planner", 1, "/v1/plan/calendar.ics", (_, _) => "/v1/plan/calendar.ics"),
        new("reader", 4, "/v1/records", (unit, _) => $"/v1/records?unit={Code(unit)}&limit=100", IsPaged: true),
        new("reader", 4, "/v1/cleaning/status", (_, _) => "/v1/cleaning/status?limit=200", IsPaged: true),
        new("reader", 2, "/v1/cleaning/status, CSV", (_, _) => "/v1/cleaning/status?limit=1000&format=csv"),
        new("reader", 3, "/v1/units/{unit}/history, CSV", (unit, _) => $"/v1/units/{Code(unit)}/history?limit=1000&format=csv"),
        new("reader", 2, "/v1/part-life/{position}/lives, CSV", (_, random) => $"/v1/part-life/{Any(random, Positions)}/lives?limit=1000&format=csv"),
        new("reader", 3, "/sites", (_, _) => "/sites"),
        new("reader", 5, "/sites/{site}", (unit, _) => $"/sites/{Uri.EscapeDataString(unit.Site)}"),
        new("reader", 4, "/units/{unit}", (unit, _) => $"/units/{Code(unit)}"),
        new("reader", 2, "/v1/cleaning/early-signs", (_, _) => "/v1/cleaning/early-signs?limit=100"),
        new("reader", 2, "/charts/units/{unit}/washes.svg", (unit, _) => $"/charts/units/{Code(unit)}/washes.svg"),
        new("reader", 2, "/charts/cleaning/on-time.svg", (_, random) => $"/charts/cleaning/on-time.svg?days={Whole(random, 28, 120)}"),
        new("reader", 2, "/charts/part-life/{position}/survival.svg", (_, random) => $"/charts/part-life/{Any(random, Positions)}/survival.svg"),
        new("reader", 1, "/charts/part-life/{position}/probability.png", (_, random) => $"/charts/part-life/{Any(random, Positions)}/probability.png"),
        new("reader", 1, "/digest", (_, _) => "/digest"),
    ];

    /// <summary>Questions that read much and compute much, each time of another window or for other ages.</summary>
    public static IReadOnlyList<Question> Dear { get; } =
    [
        new("report", 3, "/v1/cleaning/compliance, by unit", (_, random) => $"/v1/cleaning/compliance?by=unit&limit=1000&days={Whole(random, 60, 340)}"),
        new("report", 3, "/v1/part-life/{position}, both bounds", (_, random) => $"/v1/part-life/{Any(random, Positions)}?by={Any(random, LifeGroups)}&bounds=both&clock={Any(random, Clocks)}&at={Whole(random, 90, 900)}"),
        new("report", 2, "/v1/failures/recurrence", (_, random) => $"/v1/failures/recurrence?compare={Any(random, "operator", "model", "region")}&window_days={Whole(random, 30, 180)}"),
        new("report", 1, "/v1/failures/rates", (_, random) => $"/v1/failures/rates?window_days={Whole(random, 30, 180)}&limit=1000"),
        new("report", 1, "/v1/repairs/quality", (_, _) => "/v1/repairs/quality"),
    ];

    /// <summary>The questions of a role.</summary>
    /// <param name="role">The role.</param>
    public static IReadOnlyList<Question> Of(string role) => [.. All.Where(question => question.Role == role)];

    /// <summary>One of several, by weight.</summary>
    /// <param name="questions">The questions.</param>
    /// <param name="random">Chance.</param>
    public static Question Pick(IReadOnlyList<Question> questions, Random random)
    {
        int draw = random.Next(questions.Sum(question => question.Weight));
        return questions.First(question => (draw -= question.Weight) < 0);
    }

    private static string Any(Random random, params ReadOnlySpan<string> words) => words[random.Next(words.Length)];

    private static string Whole(Random random, int least, int most) => random.Next(least, most + 1).ToString(CultureInfo.InvariantCulture);

    private static string Code(FleetUnit unit) => Uri.EscapeDataString(unit.Code);
}
