using System.Net;
using System.Text.Json;
using Washwear.Api.Registry;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Security;

/// <summary>
/// Every route that reads, asked by callers who see a part of the fleet: what lies outside is not named in any answer and is not found in the
/// very words that are told of what was never there.
/// </summary>
/// <param name="fleet">The fleet and the callers.</param>
public sealed class ScopeWalkTests(TwoOperators fleet) : IClassFixture<TwoOperators>
{
    private const string NoSuch = "no-such-thing";

    // What the addresses of lists may be narrowed or shaped by; each is tried with something outside of the scope.
    private static readonly string[] Narrowing = ["unit", "site", "operator"];

    private readonly ApiHost _host = fleet.Host;

    [Fact]
    public async Task No_answer_names_what_lies_outside_of_the_callers_scope()
    {
        var leaks = new List<string>();
        int answers = 0;
        int named = 0;
        foreach (Route route in Reading())
        {
            foreach (TwoOperators.Bound caller in fleet.Callers)
            {
                foreach ((string path, string accept) in Questions(route, await ValuesAsync(caller.Seen)))
                {
                    (HttpStatusCode status, string body) = await AskAsync(caller.Client, path, accept);
                    if ((int)status >= 500)
                    {
                        leaks.Add($"{caller.Name}: {path} gave {(int)status}");
                    }

                    answers++;
                    leaks.AddRange(Found(body, caller.HiddenWords).Take(1).Select(word => $"{caller.Name}: {path} ({accept}) names '{word}'"));
                    named += (await AskAsync(_host.Admin, path, accept)).Body is { } all && Found(all, caller.HiddenWords).Any() ? 1 : 0;
                }
            }
        }

        Assert.True(leaks.Count == 0, $"{leaks.Count} of {answers} answers:\n" + string.Join('\n', leaks.Take(60)));

        // The same questions of one who sees everything do name it: what is looked for can be found.
        Assert.True(named > 60, $"only {named} of {answers} answers to the whole fleet name it");
    }

    [Fact]
    public async Task What_lies_outside_is_not_found_in_the_words_of_what_was_never_there()
    {
        var wrong = new List<string>();
        foreach (Route route in Reading().Where(route => route.Holes.Any(hole => hole is "unit" or "site" or "operator" or "key")))
        {
            foreach (TwoOperators.Bound caller in fleet.Callers)
            {
                Dictionary<string, string> hidden = await ValuesAsync(caller.Hidden);
                hidden["site"] = caller.Hidden.Select(unit => unit.Site.Resource.Site).First(caller.HiddenWords.Contains);
                hidden["operator"] = caller.Hidden.Select(unit => unit.Site.Operator.Resource.Operator).FirstOrDefault(caller.HiddenWords.Contains) ?? NoSuch;
                foreach ((string path, string accept) in Questions(route, hidden))
                {
                    string never = route.PathWith(hole => hidden.ContainsKey(hole) && hole is "unit" or "site" or "operator" or "key" ? NoSuch : hidden.GetValueOrDefault(hole, NoSuch));
                    (HttpStatusCode status, string body) = await AskAsync(caller.Client, path, accept);
                    (HttpStatusCode expected, string words) = await AskAsync(caller.Client, never + Query(path), accept);
                    if (status != expected || expected is not (HttpStatusCode.NotFound or HttpStatusCode.NotAcceptable))
                    {
                        wrong.Add($"{caller.Name}: {path} gave {(int)status}, {never} gave {(int)expected}");
                    }
                    else if (accept == "application/json" && Plain(body, hidden) != Plain(words, new Dictionary<string, string> { ["x"] = NoSuch }))
                    {
                        wrong.Add($"{caller.Name}: {path} is told otherwise than {never}: {body} / {words}");
                    }
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong.Take(40)));
    }

    [Fact]
    public async Task A_list_that_is_narrowed_to_what_lies_outside_answers_as_if_it_were_not_there()
    {
        var wrong = new List<string>();
        foreach (Route route in Reading().Where(route => route.Holes.Count == 0 && route.Pattern.StartsWith("/v1/", StringComparison.Ordinal)))
        {
            foreach (TwoOperators.Bound caller in fleet.Callers)
            {
                foreach (string by in Narrowing)
                {
                    string? code = caller.Hidden.Select(unit => CodeOf(unit, by)).FirstOrDefault(caller.HiddenWords.Contains);
                    if (code is null)
                    {
                        continue;
                    }

                    (HttpStatusCode status, string body) = await AskAsync(caller.Client, $"{route.Pattern}?{by}={Uri.EscapeDataString(code)}", "application/json");
                    (HttpStatusCode expected, string words) = await AskAsync(caller.Client, $"{route.Pattern}?{by}={NoSuch}", "application/json");
                    if (status != expected || Plain(body, new Dictionary<string, string> { ["x"] = code }) != Plain(words, new Dictionary<string, string> { ["x"] = NoSuch }))
                    {
                        wrong.Add($"{caller.Name}: {route.Pattern}?{by}={code}: {(int)status} {body}\n   against {(int)expected} {words}");
                    }
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong.Take(20)));
    }

    private IEnumerable<Route> Reading() => Route.All(_host)
        .Where(route => route is { Method: "GET", Ability: Abilities.Read, NeedsWholeFleet: false })

        // Shared links have a test of their own, and the contract's examples name ovens as anybody would.
        .Where(route => !route.IsShared && !route.Pattern.StartsWith("/openapi/", StringComparison.Ordinal));

    private static IEnumerable<(string Path, string Accept)> Questions(Route route, Dictionary<string, string> values)
    {
        string path = route.PathWith(hole => values.GetValueOrDefault(hole, NoSuch));
        bool isApi = route.Pattern.StartsWith("/v1/", StringComparison.Ordinal);
        yield return (path, isApi ? "application/json" : "text/html");
        if (isApi)
        {
            yield return (path + "?limit=1000", "application/json");
            yield return (path, "text/csv");
        }
    }

    private static async Task<(HttpStatusCode Status, string Body)> AskAsync(HttpClient caller, string path, string accept)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Accept", accept);
        using HttpResponseMessage answer = await caller.SendAsync(request);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync());
    }

    private static IEnumerable<string> Found(string body, IReadOnlySet<string> words)
    {
        string plain = WebUtility.HtmlDecode(body);
        return words.Where(word => Contains(plain, word));
    }

    // As a word of its own: 'OVEN-1' is not in 'OVEN-12'.
    private static bool Contains(string text, string word)
    {
        for (int at = text.IndexOf(word, StringComparison.OrdinalIgnoreCase); at >= 0; at = text.IndexOf(word, at + 1, StringComparison.OrdinalIgnoreCase))
        {
            int end = at + word.Length;
            if ((at == 0 || !char.IsLetterOrDigit(text[at - 1])) && (end == text.Length || !char.IsLetterOrDigit(text[end])))
            {
                return true;
            }
        }

        return false;
    }

    private static string Query(string path) => path.IndexOf('?', StringComparison.Ordinal) is var at and >= 0 ? path[at..] : string.Empty;

    // The same but for the code that was asked for, the instant and the trace.
    private static string Plain(string body, Dictionary<string, string> asked)
    {
        string plain = asked.Values.OrderByDescending(value => value.Length).Aggregate(body, (text, value) => text.Replace(value, "ASKED", StringComparison.OrdinalIgnoreCase));
        return System.Text.RegularExpressions.Regex.Replace(plain, "\"(trace_id|traceId|instance)\":\"[^\"]*\"", string.Empty);
    }

    private static string CodeOf(UnitEntry unit, string by) => by switch
    {
        "unit" => unit.Resource.Unit,
        "site" => unit.Site.Resource.Site,
        _ => unit.Site.Operator.Resource.Operator,
    };

    /// <summary>What the holes of addresses are filled with, of some units.</summary>
    private async Task<Dictionary<string, string>> ValuesAsync(UnitEntry[] units)
    {
        UnitEntry unit = units[0];
        using JsonDocument visits = JsonDocument.Parse(await _host.Admin.GetStringAsync($"/v1/records?type=visit&limit=1&unit={Uri.EscapeDataString(unit.Resource.Unit)}"));
        string? key = visits.RootElement.GetProperty("items").EnumerateArray().Select(row => row.GetProperty("key").GetString()).FirstOrDefault();
        return new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["unit"] = unit.Resource.Unit,
            ["site"] = unit.Site.Resource.Site,
            ["operator"] = unit.Site.Operator.Resource.Operator,
            ["model"] = unit.Model.Resource.Model,
            ["position"] = unit.Model.Positions.Keys.First(),
            ["rule"] = fleet.Registry.RuleList[0].Resource.Rule,
            ["name"] = "washwear.css",
            ["key"] = key ?? NoSuch,
        };
    }
}
