using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Audit;

/// <summary>Texts of the page of the audit.</summary>
internal sealed record AuditTexts
{
    internal static TextFile<AuditTexts> File { get; } = new("Audit");

    internal static AuditTexts Now => File.Now;

    public required string Audit { get; init; }
    public required ChoiceTexts Choice { get; init; }
    public required TableTexts Table { get; init; }
    public required FindingTexts Finding { get; init; }
    public required IReadOnlyDictionary<CallerKind, string> Callers { get; init; }
    public required IReadOnlyDictionary<string, string> Outcomes { get; init; }
    public required IReadOnlyDictionary<string, string> Actions { get; init; }
    public required string OtherAction { get; init; }
    public required IReadOnlyDictionary<string, string> Things { get; init; }
    public required IReadOnlyDictionary<string, string> Verbs { get; init; }
    public required string Method { get; init; }
    public required PluralText Entries { get; init; }
}

internal sealed record ChoiceTexts
{
    public required string Who { get; init; }
    public required string About { get; init; }
    public required string Action { get; init; }
    public required string From { get; init; }
    public required string Before { get; init; }
    public required string Show { get; init; }
}

internal sealed record TableTexts
{
    public required string NewestFirst { get; init; }
    public required string Caption { get; init; }
    public required string None { get; init; }
    public required string All { get; init; }
    public required string When { get; init; }
    public required string Who { get; init; }
    public required string What { get; init; }
    public required string About { get; init; }
    public required string Ended { get; init; }
    public required string FromWhere { get; init; }
    public required string ThisMachine { get; init; }
    public required string Trace { get; init; }
    public required string Older { get; init; }
    public required string Csv { get; init; }
}

internal sealed record FindingTexts
{
    public required string NothingYet { get; init; }
    public required string NoMatch { get; init; }
    public required PluralText All { get; init; }
    public required PluralText Latest { get; init; }
    public required string AllDone { get; init; }
    public required PluralText Refused { get; init; }
}
