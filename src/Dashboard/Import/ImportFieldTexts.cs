using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Import;

/// <summary>Names of what a sheet may hold; a field may have others in rows of one kind, such as visit.note.</summary>
internal sealed record ImportFieldTexts
{
    internal static TextFile<ImportFieldTexts> File { get; } = new("ImportFields");

    internal static ImportFieldTexts Now => File.Now;

    public required IReadOnlyDictionary<string, string> Kinds { get; init; }
    public required IReadOnlyDictionary<string, string> KindsInside { get; init; }
    public required IReadOnlyDictionary<string, string> Values { get; init; }
    public required IReadOnlyDictionary<string, string> Codes { get; init; }
    public required string Moment { get; init; }
    public required string TimeOfDay { get; init; }
    public required string TimeAlone { get; init; }
    public required IReadOnlyDictionary<string, FieldText> Fields { get; init; }
}

/// <summary>A field's name and the line that explains it.</summary>
internal sealed record FieldText(string Label, string Help);
