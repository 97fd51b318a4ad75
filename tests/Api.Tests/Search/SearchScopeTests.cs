using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Registry;
using Washwear.Api.Tests.Security;

namespace Washwear.Api.Tests.Search;

/// <summary>Whoever sees a part of the fleet finds that part alone.</summary>
/// <param name="fleet">The fleet and the callers.</param>
public sealed class SearchScopeTests(TwoOperators fleet) : IClassFixture<TwoOperators>
{
    [Fact]
    public async Task What_lies_outside_of_the_callers_scope_is_neither_found_nor_spelled_alike_and_what_lies_within_is()
    {
        foreach (TwoOperators.Bound caller in fleet.Callers)
        {
            foreach (UnitEntry unit in caller.Hidden.Take(8))
            {
                foreach (string asked in new[] { unit.Resource.Unit, unit.Resource.Serial!, unit.Resource.Unit + "-visit", unit.Resource.Unit[..^1] + "x" })
                {
                    JsonElement found = await FindAsync(caller.Client, asked);
                    string answer = found.ToString().Replace(asked, string.Empty, StringComparison.OrdinalIgnoreCase);
                    Assert.True(
                        !found.GetProperty("groups").EnumerateArray().Any() && !caller.HiddenWords.Any(word => answer.Contains($"\"{word}\"", StringComparison.OrdinalIgnoreCase)),
                        $"{caller.Name}: {asked}: {found}");
                }
            }

            foreach (UnitEntry unit in caller.Seen.Take(4))
            {
                Assert.Equal("/units/" + unit.Resource.Unit, (await FindAsync(caller.Client, unit.Resource.Unit)).GetProperty("goes_to").GetString());
            }
        }
    }

    private static async Task<JsonElement> FindAsync(HttpClient client, string query) =>
        await client.GetFromJsonAsync<JsonElement>("/v1/search?limit=50&q=" + Uri.EscapeDataString(query));
}
