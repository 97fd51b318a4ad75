using System.Globalization;
using System.Text.Json;

namespace Washwear.Api.Messages;

/// <summary>Finds a value in JSON by its JSON Pointer (RFC 6901).</summary>
internal static class JsonPointer
{
    /// <summary>The value; null: there is none.</summary>
    /// <param name="root">The JSON.</param>
    /// <param name="pointer">The pointer; empty: the whole.</param>
    public static JsonElement? Find(JsonElement root, string pointer)
    {
        JsonElement here = root;
        foreach (string name in pointer.Split('/').Skip(1).Select(part => part.Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal)))
        {
            if (here.ValueKind == JsonValueKind.Object && here.TryGetProperty(name, out JsonElement member))
            {
                here = member;
            }
            else if (here.ValueKind == JsonValueKind.Array
                && int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out int index) && index < here.GetArrayLength())
            {
                here = here[index];
            }
            else
            {
                return null;
            }
        }

        return here;
    }
}
