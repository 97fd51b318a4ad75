using System.Text.RegularExpressions;
using Washwear.Api.Tests.House;

namespace Washwear.Api.Tests.Security;

/// <summary>What docs/access.md says about routes: rows such as '| GET /v1/units | read |'.</summary>
internal static partial class AccessPage
{
    /// <summary>The ability that each route asks for, by method and pattern.</summary>
    public static Dictionary<string, string> Routes() =>
        Row().Matches(File.ReadAllText(Path.Combine(Repository.Root, "docs", "access.md")))
            .ToDictionary(match => match.Groups[1].Value, match => match.Groups[2].Value, StringComparer.Ordinal);

    [GeneratedRegex(@"^\| `((?:GET|POST|PUT|DELETE) /[^`]*)` \| ([^|]+?) \|", RegexOptions.Multiline)]
    private static partial Regex Row();
}
