using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>Reads what a reader of failures asks for.</summary>
internal static class FailureQuestions
{
    private const double MostGapHours = 90 * 24;
    private const int MostWindowDays = 730;

    /// <summary>What recurrence can be compared by.</summary>
    public static IReadOnlyList<string> Compared { get; } = ["operator", "site", "model", "region"];

    /// <summary>The question; what is wrong with it is noted in the query.</summary>
    /// <param name="query">The query.</param>
    /// <param name="registry">The registry, which knows the codes.</param>
    /// <param name="now">The instant: the window ends here unless the query says otherwise.</param>
    public static FailureChoice Read(Query query, RegistrySnapshot registry, DateTimeOffset now)
    {
        DateTimeOffset? to = Date(query, "to");
        DateTimeOffset? from = Date(query, "from");
        foreach ((string name, DateTimeOffset? at) in new[] { ("from", from), ("to", to) })
        {
            if (at < DateTimeOffset.UnixEpoch)
            {
                query.Refuse(name, "range", "No failure is on record from before 1970.", $"Give a {name} from 1970-01-01 on, or leave it out.");
            }
        }

        if (to is { } end && from is { } begin && begin >= end)
        {
            query.Refuse("from", "before to", "The window ends before it begins.", "Give a from that lies before to.");
        }
        else if (from >= now && to is null)
        {
            query.Refuse("from", "past", "The window begins in the future.", "Give a from in the past, or leave it out.");
        }

        return new FailureChoice
        {
            Of = query.Word<FailureKind>("of") ?? FailureKind.Faults,
            From = from,
            To = to,
            Operator = Known(query, "operator", registry.Operators.ContainsKey),
            Site = Known(query, "site", registry.Sites.ContainsKey),
            Model = Known(query, "model", registry.Models.ContainsKey),
            Unit = Known(query, "unit", registry.Units.ContainsKey),
            Position = query.Text("position"),
            Code = query.Text("code"),
            By = query.Word<RateGroup>("by") ?? RateGroup.Unit,
            Pareto = query.Word<ParetoGroup>("pareto") ?? ParetoGroup.Position,
            Measure = query.Word<ParetoMeasure>("measure") ?? ParetoMeasure.Count,
            Axis = query.Word<RecurrenceAxis>("axis") ?? RecurrenceAxis.Age,
            Compare = query.OneOf("compare", Compared),
            GapHours = query.Number("gap_hours", FailureChoice.UsualGapHours, 0, MostGapHours),
            WindowDays = query.Whole("window_days", FailureChoice.UsualWindowDays, 1, MostWindowDays),
        };
    }

    /// <summary>The choice with its window filled in: a year that ends now, unless it says otherwise.</summary>
    /// <param name="choice">The choice.</param>
    /// <param name="now">The instant.</param>
    public static FailureChoice Filled(FailureChoice choice, DateTimeOffset now)
    {
        DateTimeOffset to = choice.To is { } end && end < now ? end : now;
        return choice with { To = to, From = choice.From ?? to.AddYears(-1) };
    }

    // An instant with its offset, or a date, which begins at 00:00 UTC.
    private static DateTimeOffset? Date(Query query, string name) =>
        DateOnly.TryParseExact(query.Text(name), "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture, default, out DateOnly date)
            ? new DateTimeOffset(date, TimeOnly.MinValue, TimeSpan.Zero)
            : query.Instant(name);

    private static string? Known(Query query, string name, Func<string, bool> isKnown)
    {
        string? code = query.Text(name);
        if (code is not null && !isKnown(code))
        {
            query.Refuse(name, "known", $"There is no {name} '{code}'.", $"Give the code of a {name} of the registry, or leave {name} out.");
        }

        return code;
    }
}
