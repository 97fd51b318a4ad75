using Washwear.Dashboard.Import;

namespace Washwear.Api.Import;

/// <summary>What a field of an import holds, and so how its cells are read.</summary>
internal enum FieldRole
{
    /// <summary>A code of the registry, or one that the user makes.</summary>
    Code,

    /// <summary>The sender's own key of a record.</summary>
    Key,

    /// <summary>A date with its time, or a date alone.</summary>
    Moment,

    /// <summary>The time of day that belongs to a date in another column.</summary>
    Clock,

    /// <summary>Minutes from the start.</summary>
    Minutes,

    /// <summary>A calendar date.</summary>
    Day,

    /// <summary>A number.</summary>
    Number,

    /// <summary>Yes or no.</summary>
    YesNo,

    /// <summary>One of a few words.</summary>
    Choice,

    /// <summary>Words of people.</summary>
    Words,

    /// <summary>Several codes in a cell, separated by commas, semicolons, strokes or spaces.</summary>
    Codes,

    /// <summary>A list as JSON.</summary>
    Json,
}

/// <summary>A field that a column may hold.</summary>
/// <param name="Name">Its name, as records and the registry have it; a time of day, a length and a finding have names of their own.</param>
/// <param name="Role">How its cells are read.</param>
/// <param name="Headings">Words that head such a column, in plain letters, separated by |; English, German and French.</param>
/// <param name="Example">An invented value.</param>
/// <param name="Required">Whether nothing can be taken in without it.</param>
/// <param name="Of">What its codes are codes of: unit, site, operator, model, position, fault, programme or part.</param>
internal sealed record ImportField(
    string Name, FieldRole Role, string Headings, string Example = "", bool Required = false, string? Of = null)
{
    /// <summary>Headings that may stand over it, as words.</summary>
    public IReadOnlyList<string> Words { get; } = [.. Headings.Split('|', StringSplitOptions.RemoveEmptyEntries)];

    /// <summary>The field that a time of day or a length belongs to; its own name for others.</summary>
    public string Group => Name.EndsWith(".time", StringComparison.Ordinal) ? Name[..^".time".Length]
        : Name.EndsWith(".minutes", StringComparison.Ordinal) ? Name[..^".minutes".Length]
        : Name;
}

/// <summary>What the rows of a sheet are.</summary>
/// <param name="Name">Name of the kind: a type of record, or a kind of the registry.</param>
/// <param name="IsRegistry">Whether they say who and what there is, rather than what happened.</param>
/// <param name="Fields">The fields, in the order of the template.</param>
internal sealed record ImportKind(string Name, bool IsRegistry, IReadOnlyList<ImportField> Fields)
{
    private readonly Dictionary<string, ImportField> _byName = Fields.ToDictionary(field => field.Name, StringComparer.Ordinal);

    /// <summary>What they are called by people, in the plural.</summary>
    public string Label => ImportSentences.Kind(Name);

    /// <summary>The field that says when; null: there is none.</summary>
    public ImportField? When { get; } = Fields.FirstOrDefault(field => field.Role == FieldRole.Moment);

    /// <summary>A field by its name; null: there is none.</summary>
    /// <param name="name">The name.</param>
    public ImportField? Find(string name) => _byName.GetValueOrDefault(name);

    /// <summary>A field's name for people; its own name where there is no such field.</summary>
    /// <param name="name">The name.</param>
    public string LabelOf(string name) => Find(name) is null ? name : ImportSentences.Field(Name, name);

    /// <summary>A line that explains a field, with its unit of measure.</summary>
    /// <param name="field">The field.</param>
    public string HelpOf(ImportField field) => ImportSentences.Help(Name, field.Name, field.Role == FieldRole.Moment);
}
