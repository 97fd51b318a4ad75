using System.Globalization;

namespace Washwear.Api.Http;

/// <summary>Reads the query of a request, collecting what is wrong with it.</summary>
/// <param name="query">The query.</param>
public sealed class Query(IQueryCollection query)
{
    private static readonly DateTimeOffset FirstInstant = new(1900, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset EndOfInstants = new(2200, 1, 1, 0, 0, 0, TimeSpan.Zero);

    private readonly List<FieldProblem> _problems = [];

    /// <summary>What is wrong so far, as an answer; null: nothing.</summary>
    public ProblemResult? Problem => _problems.Count == 0 ? null : Problems.Invalid(_problems);

    /// <summary>A text; null when it is left out or empty.</summary>
    /// <param name="name">Name of the parameter.</param>
    public string? Text(string name) => query[name].ToString().Trim() is { Length: > 0 } text ? text : null;

    /// <summary>One word of an enumeration; null when it is left out.</summary>
    /// <typeparam name="T">The enumeration.</typeparam>
    /// <param name="name">Name of the parameter.</param>
    public T? Word<T>(string name)
        where T : struct, Enum =>
        OneOf(name, Enum.GetNames<T>().Select(Json.Name)) is { } word
            ? Enum.GetValues<T>().First(value => Json.Name(value.ToString()) == word)
            : null;

    /// <summary>One of several words, without case; null when it is left out.</summary>
    /// <param name="name">Name of the parameter.</param>
    /// <param name="words">The words.</param>
    public string? OneOf(string name, IEnumerable<string> words)
    {
        if (Text(name) is not { } given)
        {
            return null;
        }

        string[] known = [.. words];
        string? found = Array.Find(known, word => string.Equals(word, given, StringComparison.OrdinalIgnoreCase));
        if (found is null)
        {
            _problems.Add(new(name, "choice", $"'{given}' is none of the choices.", "Give one of: " + string.Join(", ", known) + "."));
        }

        return found;
    }

    /// <summary>A whole number.</summary>
    /// <param name="name">Name of the parameter.</param>
    /// <param name="usual">Value when it is left out.</param>
    /// <param name="least">Least allowed.</param>
    /// <param name="most">Most allowed.</param>
    public int Whole(string name, int usual, int least, int most)
    {
        if (Text(name) is not { } given)
        {
            return usual;
        }

        if (int.TryParse(given, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int number) && number >= least && number <= most)
        {
            return number;
        }

        string range = FormattableString.Invariant($"a whole number from {least} to {most}");
        _problems.Add(new(name, "range", $"'{given}' is not {range}.", $"Give {range}, or leave it out."));
        return usual;
    }

    /// <summary>A number strictly between two limits.</summary>
    /// <param name="name">Name of the parameter.</param>
    /// <param name="usual">Value when it is left out.</param>
    /// <param name="above">It must be above this.</param>
    /// <param name="below">It must be below this.</param>
    public double Between(string name, double usual, double above, double below)
    {
        if (Text(name) is not { } given)
        {
            return usual;
        }

        if (double.TryParse(given, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && number > above && number < below)
        {
            return number;
        }

        string range = FormattableString.Invariant($"a number above {above} and below {below}");
        _problems.Add(new(name, "range", $"'{given}' is not {range}.", $"Give {range}, or leave it out."));
        return usual;
    }

    /// <summary>A number within two limits.</summary>
    /// <param name="name">Name of the parameter.</param>
    /// <param name="usual">Value when it is left out.</param>
    /// <param name="least">Least allowed.</param>
    /// <param name="most">Most allowed.</param>
    public double Number(string name, double usual, double least, double most)
    {
        if (Text(name) is not { } given)
        {
            return usual;
        }

        if (double.TryParse(given, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && number >= least && number <= most)
        {
            return number;
        }

        string range = FormattableString.Invariant($"a number from {least} to {most}");
        _problems.Add(new(name, "range", $"'{given}' is not {range}.", $"Give {range}, or leave it out."));
        return usual;
    }

    /// <summary>An instant with its offset, of the years 1900 to 2199, so that days can be added and taken off; null when it is left out.</summary>
    /// <param name="name">Name of the parameter.</param>
    public DateTimeOffset? Instant(string name)
    {
        // A plus sign that was not escaped reads as a space.
        if (Text(name)?.Replace(' ', '+') is not { } given)
        {
            return null;
        }

        if (InstantConverter.TryParse(given, out DateTimeOffset instant))
        {
            if (instant >= FirstInstant && instant < EndOfInstants)
            {
                return instant;
            }

            _problems.Add(new(name, "range", $"'{given}' lies outside the years 1900 to 2199.", "Give an instant of these years, or leave it out."));
            return null;
        }

        _problems.Add(new(name, "instant", $"'{given}' is not an instant with an offset.", "Write it like 2026-03-01T02:00:00+01:00."));
        return null;
    }

    /// <summary>Notes a problem that the endpoint found itself.</summary>
    /// <param name="name">Name of the parameter.</param>
    /// <param name="rule">Name of the rule.</param>
    /// <param name="detail">What is wrong.</param>
    /// <param name="mend">What to do.</param>
    public void Refuse(string name, string rule, string detail, string mend) => _problems.Add(new(name, rule, detail, mend));
}
