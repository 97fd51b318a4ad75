using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>What a page costs its reader to fetch, the first time and with nothing kept from before.</summary>
public sealed class WeightTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private const int MostBytes = 200_000;

    [Fact]
    public async Task No_page_moves_more_than_200_kB_or_asks_anything_of_another_place()
    {
        FleetWalk walk = await fleet.WalkAsync();
        var heavy = new List<string>();
        foreach (string address in walk.Pages)
        {
            await using IBrowserContext session = await fleet.OpenAsync();
            IPage page = await session.NewPageAsync();
            ICDPSession wire = await session.NewCDPSessionAsync(page);
            await wire.SendAsync("Network.enable");
            double bytes = 0;
            wire.Event("Network.loadingFinished").OnEvent += (_, told) => bytes += told!.Value.GetProperty("encodedDataLength").GetDouble();
            page.Request += (_, request) =>
            {
                if (!request.Url.StartsWith(fleet.Address.ToString(), StringComparison.Ordinal) && !request.Url.StartsWith("data:", StringComparison.Ordinal))
                {
                    heavy.Add($"{address} asks {request.Url}");
                }
            };

            await page.GotoAsync(new Uri(fleet.Address, address).ToString(), new() { WaitUntil = WaitUntilState.NetworkIdle });

            Console.WriteLine($"{bytes / 1000,7:0.0} kB {address}");
            if (bytes is <= 0 or > MostBytes)
            {
                heavy.Add($"{address} moves {bytes} bytes");
            }
        }

        Assert.True(walk.Pages.Count > 40, $"only {walk.Pages.Count} pages were found");
        Assert.Empty(heavy);
    }
}
