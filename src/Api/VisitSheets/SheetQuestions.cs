using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>A question that names what this unit's sheet does not have.</summary>
/// <param name="field">Query parameter.</param>
/// <param name="rule">Name of the rule.</param>
/// <param name="detail">What is wrong.</param>
/// <param name="mend">What to do.</param>
public sealed class UnknownOnSheetException(string field, string rule, string detail, string mend) : Exception(detail)
{
    /// <summary>Query parameter, rule, what is wrong and what to do.</summary>
    public FieldProblem Problem { get; } = new(field, rule, detail, mend);
}

/// <summary>Reads what is asked of a visit sheet from the query of a request.</summary>
internal static class SheetQuestions
{
    private const string Form = "Write it as check:result, such as drain-by-clock:fail; the result is pass, fail or not_done.";

    /// <summary>The question; what is wrong with it is noted in the query.</summary>
    /// <param name="request">The request.</param>
    /// <param name="query">Its query.</param>
    public static SheetQuestion Read(HttpRequest request, Query query)
    {
        var results = new List<CheckAnswer>();
        foreach (string? given in request.Query["result"].Where(text => !string.IsNullOrWhiteSpace(text)))
        {
            if (Answer(given!) is not { } answer)
            {
                query.Refuse("result", "form", $"'{given}' is not a check and its result.", Form);
            }
            else if (results.Exists(one => string.Equals(one.Check, answer.Check, StringComparison.OrdinalIgnoreCase)))
            {
                query.Refuse("result", "twice", $"The check '{answer.Check}' has two results.", "Give one result a check.");
            }
            else
            {
                results.Add(answer);
            }
        }

        return new SheetQuestion(query.Text("fault"), results, query.Between("certainty", SheetQuestion.UsualCertainty, 0.5, 1));
    }

    /// <summary>The question with codes as the catalogue spells them.</summary>
    /// <param name="question">The question.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="fault">The fault that the sheet is for.</param>
    /// <param name="known">The same in the catalogue; null: it is not listed.</param>
    /// <exception cref="UnknownOnSheetException">The fault is neither in the catalogue nor on record at the unit, or a check is none of the
    /// fault's.</exception>
    public static SheetQuestion Spelled(SheetQuestion question, UnitEntry unit, SheetFault? fault, FaultResource? known)
    {
        if (question.Fault is { } asked && known is null && fault?.RaisedAt is null)
        {
            IEnumerable<string> codes = unit.Model.Resource.Faults.Select(one => one.Code);
            throw new UnknownOnSheetException(
                "fault", "known", $"'{asked}' is no fault of model {unit.Model.Resource.Model}, and {unit.Resource.Unit} never raised it.",
                new NearestCode().To(asked, codes) is { } near ? $"Did you mean {near}?"
                    : unit.Model.Resource.Faults.Count == 0 ? "Leave fault out." : "Give one of: " + string.Join(", ", codes) + ".");
        }

        return question with
        {
            Fault = question.Fault is null ? null : fault!.Code,
            Results = [.. question.Results.Select(result => result with { Check = Spelled(result.Check, fault, known) })],
        };
    }

    /// <summary>The question with checks as the model's catalogue spells them, whichever of its faults they are for.</summary>
    /// <param name="question">The question.</param>
    /// <param name="model">The unit's model.</param>
    /// <exception cref="UnknownOnSheetException">A check is none of the model's.</exception>
    public static SheetQuestion OfModel(SheetQuestion question, ModelEntry model)
    {
        string[] known = [.. model.Resource.Faults.SelectMany(fault => fault.Checks ?? []).Select(check => check.Check).Distinct()];
        return question with
        {
            Results =
            [
                .. question.Results.Select(told => told with
                {
                    Check = Array.Find(known, check => string.Equals(check, told.Check, StringComparison.OrdinalIgnoreCase))
                        ?? throw new UnknownOnSheetException(
                            "result", "known", $"'{told.Check}' is no check of model {model.Resource.Model}.",
                            known.Length == 0 ? "Leave result out." : "Give one of: " + string.Join(", ", known) + "."),
                }),
            ],
        };
    }

    private static string Spelled(string check, SheetFault? fault, FaultResource? known) =>
        known?.Checks?.FirstOrDefault(one => string.Equals(one.Check, check, StringComparison.OrdinalIgnoreCase))?.Check
        ?? throw new UnknownOnSheetException(
            "result", "known", fault is null ? $"There is no fault to check, so '{check}' is no check of this sheet."
                : $"'{check}' is no check of fault {fault.Code}.",
            known?.Checks is { Count: > 0 } checks ? "Give one of: " + string.Join(", ", checks.Select(one => one.Check)) + "."
                : "Leave result out.");

    // Codes may hold colons, results never do.
    private static CheckAnswer? Answer(string given)
    {
        int colon = given.LastIndexOf(':');
        return colon > 0 && EnumText<SheetResult>.TryParse(given[(colon + 1)..].Trim(), out SheetResult result)
            ? new CheckAnswer(given[..colon].Trim(), result)
            : null;
    }
}
