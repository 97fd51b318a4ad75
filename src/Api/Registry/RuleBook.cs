using System.Globalization;
using Washwear.Api.Http;

namespace Washwear.Api.Registry;

/// <summary>Collects what is wrong with a resource, one small rule at a time.</summary>
/// <param name="path">Path of the resource in what was sent; empty: the whole.</param>
/// <param name="problems">Where problems are added.</param>
internal sealed class RuleBook(string path, List<FieldProblem> problems)
{
    private const int MostTextCharacters = 2000;

    public RuleBook In(string field) => new(Join(field), problems);

    public RuleBook At(string list, int index) => new(Join(FormattableString.Invariant($"{list}[{index}]")), problems);

    public void Add(string field, string rule, string detail, string mend) =>
        problems.Add(new FieldProblem(Join(field), rule, detail, mend));

    public void Code(string field, string? code)
    {
        if (code is not null && !Codes.IsValid(code))
        {
            Add(field, "code", "A code has 1 to 64 printable characters and no space at its ends.", "Shorten it or take those characters out.");
        }
    }

    // Codes that stand in addresses: a slash or a path of dots alone would lead elsewhere.
    public void AddressCode(string field, string code)
    {
        Code(field, code);
        if (code.Contains('/', StringComparison.Ordinal) || code.Contains('\\', StringComparison.Ordinal) || code is "." or "..")
        {
            Add(field, "code", "This code stands in addresses, so it may not hold a slash nor be dots alone.", "Write it with a dash instead.");
        }
    }

    public void Text(string field, string? text)
    {
        if (text is null)
        {
            return;
        }

        if (string.IsNullOrWhiteSpace(text) || text.Length > MostTextCharacters)
        {
            Add(field, "text", "A text has 1 to 2000 characters that are not all spaces.", "Write something, or leave the field out if it may be.");
        }
        else if (text.Any(letter => char.IsControl(letter) && letter is not ('\n' or '\r' or '\t')))
        {
            Add(field, "text", "The text holds control characters.", "Take them out.");
        }
    }

    public void Between(string field, double? value, double least, double most)
    {
        if (value is { } number && !(number >= least && number <= most))
        {
            string range = string.Create(CultureInfo.InvariantCulture, $"from {least} to {most}");
            Add(field, "range", string.Create(CultureInfo.InvariantCulture, $"{number} is not {range}."), $"Give a number {range}.");
        }
    }

    public void AboveZero(string field, double? value, double most)
    {
        if (value is { } number && !(number > 0 && number <= most))
        {
            string range = string.Create(CultureInfo.InvariantCulture, $"above 0 and at most {most}");
            Add(field, "range", string.Create(CultureInfo.InvariantCulture, $"{number} is not {range}."), $"Give a number {range}.");
        }
    }

    public void NoneTwice<T>(string list, IReadOnlyList<T> items, Func<T, string> code, string field)
    {
        var seen = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int i = 0; i < items.Count; i++)
        {
            if (!seen.TryAdd(Codes.Key(code(items[i])), i))
            {
                int first = seen[Codes.Key(code(items[i]))];
                string place = FormattableString.Invariant($"{list}[{i}]") + (field.Length == 0 ? string.Empty : "." + field);
                Add(place, "duplicate", FormattableString.Invariant($"The code '{code(items[i])}' is there already, at {list}[{first}]; case does not count."),
                    "Give each its own code, or leave one out.");
            }
        }
    }

    public void OneOf(string field, string? value, IReadOnlyCollection<string> choices)
    {
        if (value is not null && !choices.Contains(value))
        {
            string words = string.Join(", ", choices);
            Add(field, "choice", $"'{value}' is none of {words}.", $"Choose one of {words}.");
        }
    }

    public void Known(string field, string? code, string kind, Func<string, bool> isKnown)
    {
        if (code is not null && !isKnown(code))
        {
            Add(field, "unknown_" + kind, $"There is no {kind} '{code}'.", $"Mend the code, or add the {kind} first.");
        }
    }

    public void InOrder<T>(string field, T? from, T? to, string fromName)
        where T : struct, IComparable<T>
    {
        if (from is { } start && to is { } end && end.CompareTo(start) < 0)
        {
            Add(field, "order", $"It lies before {fromName}.", $"Give {fromName} or later.");
        }
    }

    private string Join(string field) => path.Length == 0 ? field : path + "." + field;
}
