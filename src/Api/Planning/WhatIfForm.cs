using System.Globalization;
using Washwear.Api.Http;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>A trial as the form on its page asks for it: at most one position and one supplier, and what holds for all. It stands in the address, so
/// that a trial can be sent to a colleague.</summary>
internal sealed class WhatIfForm
{
    private static readonly string[] Numbers =
        ["part_price", "planned_visit_cost", "failure_cost", "replace_at_days", "lockout_hour_cost", "horizon_weeks", "lead_time_days"];

    private static readonly string[] Words = ["position", "supplier", "run_to_failure"];

    private readonly Dictionary<string, double> _numbers = [];

    /// <summary>Reads it.</summary>
    /// <param name="query">The address's query.</param>
    public WhatIfForm(IQueryCollection query)
    {
        Fields = Numbers.Concat(Words).Select(name => (name, Text: query[name].ToString().Trim())).Where(field => field.Text.Length > 0)
            .ToDictionary(field => field.name, field => field.Text);
        Problems = [.. Numbers.Where(Fields.ContainsKey).Select(Read).OfType<FieldProblem>(), .. Alone()];
    }

    /// <summary>What was entered, by field.</summary>
    public IReadOnlyDictionary<string, string> Fields { get; }

    /// <summary>What cannot be read, or lacks what it belongs to.</summary>
    public IReadOnlyList<FieldProblem> Problems { get; }

    /// <summary>Whether nothing is asked for.</summary>
    public bool IsEmpty => Fields.Count == 0;

    /// <summary>What to try.</summary>
    public WhatIfResource Asked => new(
        LockoutHourCost: Number("lockout_hour_cost"),
        HorizonWeeks: (int?)Number("horizon_weeks"),
        Positions: Fields.TryGetValue("position", out string? position)
            ? [new WhatIfPositionResource(
                position, null, Number("part_price"), Number("planned_visit_cost"), Number("failure_cost"), Number("replace_at_days"), Fields.ContainsKey("run_to_failure"))]
            : null,
        Suppliers: Fields.TryGetValue("supplier", out string? supplier) && Number("lead_time_days") is { } days ? [new WhatIfSupplierResource(supplier, days)] : null);

    private double? Number(string name) => _numbers.TryGetValue(name, out double number) ? number : null;

    // Many keyboards have a comma only.
    private FieldProblem? Read(string name)
    {
        string text = Fields[name];
        if (!double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double number) || !double.IsFinite(number))
        {
            return new FieldProblem(name, "number", $"'{text}' is no number.", "Write digits, with a point or a comma before decimals.");
        }

        if (name == "horizon_weeks" && (number != Math.Floor(number) || Math.Abs(number) > 1e6))
        {
            return new FieldProblem(name, "number", $"'{text}' is no whole number of weeks.", "Give 4 to 104.");
        }

        _numbers[name] = number;
        return null;
    }

    private IEnumerable<FieldProblem> Alone()
    {
        bool wantsPosition = Fields.Keys.Any(name => name is "part_price" or "planned_visit_cost" or "failure_cost" or "replace_at_days" or "run_to_failure");
        if (wantsPosition && !Fields.ContainsKey("position"))
        {
            yield return new FieldProblem("position", "required", "No position is chosen to which the costs or the age belong.", "Choose one.");
        }

        if (Fields.ContainsKey("position") && !wantsPosition)
        {
            yield return new FieldProblem("position", "required", "Nothing is entered to try at the position.", "Enter a cost or an age, or tick that it runs to failure.");
        }

        if (Fields.ContainsKey("supplier") != Fields.ContainsKey("lead_time_days"))
        {
            yield return new FieldProblem("supplier", "required", "A lead time needs its supplier, and a supplier a lead time.", "Enter both.");
        }
    }
}
