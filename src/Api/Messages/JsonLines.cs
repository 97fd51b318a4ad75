using System.Globalization;
using System.Text.Json;

namespace Washwear.Api.Messages;

/// <summary>On which line of a JSON text each of its values begins.</summary>
internal sealed class JsonLines
{
    private readonly Dictionary<string, int> _lines = new(StringComparer.Ordinal);
    private readonly List<(string Field, int Line)> _twice = [];

    /// <summary>Reads the lines.</summary>
    /// <param name="json">Valid JSON, UTF-8.</param>
    public JsonLines(ReadOnlySpan<byte> json)
    {
        var reader = new Utf8JsonReader(json);
        var path = new Stack<(string Path, int Index)>();
        string? name = null;
        int line = 1;
        int counted = 0;
        while (reader.Read())
        {
            line += json[counted..(int)reader.TokenStartIndex].Count((byte)'\n');
            counted = (int)reader.TokenStartIndex;
            if (reader.TokenType == JsonTokenType.PropertyName)
            {
                name = reader.GetString();
                continue;
            }

            if (reader.TokenType is JsonTokenType.EndObject or JsonTokenType.EndArray)
            {
                path.Pop();
                continue;
            }

            string here = Enter(path, name);
            name = null;
            if (!_lines.TryAdd(here, line))
            {
                _twice.Add((here, line));
            }

            if (reader.TokenType is JsonTokenType.StartObject or JsonTokenType.StartArray)
            {
                path.Push((here, reader.TokenType == JsonTokenType.StartArray ? 0 : -1));
            }
        }
    }

    /// <summary>Fields that are given twice, with the line of the second.</summary>
    public IReadOnlyList<(string Field, int Line)> Twice => _twice;

    /// <summary>The line of a field, or of the nearest thing around it that is there; from 1.</summary>
    /// <param name="field">Path of the field, such as subscriptions[0].topic.</param>
    public int Of(string field)
    {
        string path = field;
        while (path.Length > 0)
        {
            if (_lines.TryGetValue(path, out int line))
            {
                return line;
            }

            path = path[..Math.Max(0, path.LastIndexOfAny(['.', '[']))];
        }

        return 1;
    }

    private static string Enter(Stack<(string Path, int Index)> path, string? name)
    {
        if (!path.TryPop(out (string Path, int Index) around))
        {
            return string.Empty;
        }

        path.Push((around.Path, around.Index < 0 ? -1 : around.Index + 1));
        return name is null
            ? around.Path + "[" + around.Index.ToString(CultureInfo.InvariantCulture) + "]"
            : around.Path.Length == 0 ? name : around.Path + "." + name;
    }
}
