using System.Globalization;
using System.Text.Json;
using Washwear.Api.Http;

namespace Washwear.Api.Messages;

/// <summary>What is wrong with a mapping file.</summary>
/// <param name="Line">Line of the file, from 1.</param>
/// <param name="Problem">Field, rule, what was found and how to mend it.</param>
internal sealed record MappingProblem(long Line, FieldProblem Problem)
{
    /// <summary>The problem in one line.</summary>
    public override string ToString() =>
        $"line {Line.ToString(CultureInfo.InvariantCulture)}, {Problem.Field}: {Problem.Detail} {Problem.Mend} ({Problem.Rule})";
}

/// <summary>A topic that is listened to.</summary>
/// <param name="Pattern">The topic.</param>
/// <param name="Resource">What becomes of its messages.</param>
/// <param name="Source">Source of its records.</param>
internal sealed record Subscription(TopicPattern Pattern, SubscriptionResource Resource, string Source);

/// <summary>Reads the mapping file.</summary>
internal static class MappingFile
{
    /// <summary>Source of records where the mapping names none.</summary>
    public const string UsualSource = "mqtt";

    private static readonly JsonDocumentOptions Strict = new() { MaxDepth = 32 };

    /// <summary>Reads the file.</summary>
    /// <param name="json">Its bytes.</param>
    /// <param name="problems">Everything that is wrong; empty: nothing.</param>
    /// <returns>The topics, in the order of the file; empty when there are problems.</returns>
    public static IReadOnlyList<Subscription> Read(ReadOnlyMemory<byte> json, out IReadOnlyList<MappingProblem> problems)
    {
        ReadOnlyMemory<byte> text = json.Span is [0xEF, 0xBB, 0xBF, ..] ? json[3..] : json;
        try
        {
            using JsonDocument document = JsonDocument.Parse(text, Strict);
            var lines = new JsonLines(text.Span);
            if (lines.Twice.Count > 0)
            {
                problems = [.. lines.Twice.Select(twice => new MappingProblem(twice.Line, new(twice.Field, "twice", "The field is given twice.", "Take one of them out.")))];
                return [];
            }

            IReadOnlyList<FieldProblem> found = JsonShape.Check(document.RootElement, typeof(MappingDocument));
            MappingDocument? mapping = found.Count > 0 ? null : document.RootElement.Deserialize<MappingDocument>(Json.Options);
            found = mapping is null ? found : MappingRules.Check(mapping);
            problems = [.. found.Select(problem => new MappingProblem(lines.Of(problem.Field), problem)).OrderBy(problem => problem.Line)];
            return problems.Count > 0 ? [] : [.. mapping!.Subscriptions.Select(one => Compile(one, mapping.Source ?? UsualSource))];
        }
        catch (JsonException error)
        {
            problems = [new MappingProblem(error.LineNumber + 1 ?? 1, NotJson(error))];
        }
        catch (InvalidOperationException)
        {
            problems = [new MappingProblem(1, new("(whole file)", "utf8", "A name or a value is not valid text.", "Save the file as UTF-8."))];
        }

        return [];
    }

    private static Subscription Compile(SubscriptionResource resource, string source) =>
        new(TopicPattern.Read(resource.Topic, out _)!, resource, resource.Source ?? source);

    private static FieldProblem NotJson(JsonException error) => new(
        "(whole file)",
        "not_json",
        FormattableString.Invariant($"The file is not valid JSON at byte {error.BytePositionInLine + 1 ?? 1} of this line."),
        "Check quotes, commas and brackets there.");
}
