namespace Washwear.Dashboard.VisitSheets;

/// <summary>How a check on the sheet went.</summary>
public enum SheetResult
{
    /// <summary>It shows nothing wrong.</summary>
    Pass,

    /// <summary>It shows something wrong.</summary>
    Fail,

    /// <summary>It was not done, and is not proposed again.</summary>
    NotDone,
}

/// <summary>The result of one check.</summary>
/// <param name="Check">Code of the check.</param>
/// <param name="Result">How it went.</param>
public sealed record CheckAnswer(string Check, SheetResult Result);

/// <summary>What a reader asks of a visit sheet.</summary>
/// <param name="Fault">Code of the fault; null: the one that fits best.</param>
/// <param name="Results">Checks that are done, in the order in which they were told.</param>
/// <param name="Certainty">Probability of one cause at which no further check is proposed, above 0.5 and below 1.</param>
public sealed record SheetQuestion(string? Fault, IReadOnlyList<CheckAnswer> Results, double Certainty = SheetQuestion.UsualCertainty)
{
    /// <summary>Nine in ten.</summary>
    public const double UsualCertainty = 0.9;

    /// <summary>As a sheet opens.</summary>
    public static SheetQuestion Usual { get; } = new(null, []);

    /// <summary>The same with one more result, in the place of an earlier one of that check.</summary>
    /// <param name="check">Code of the check.</param>
    /// <param name="result">How it went; null: as if nothing had been told of it.</param>
    /// <returns>The question.</returns>
    public SheetQuestion With(string check, SheetResult? result)
    {
        IEnumerable<CheckAnswer> others = Results.Where(one => !string.Equals(one.Check, check, StringComparison.OrdinalIgnoreCase));
        return this with { Results = [.. result is { } told ? others.Append(new CheckAnswer(check, told)) : others] };
    }
}
