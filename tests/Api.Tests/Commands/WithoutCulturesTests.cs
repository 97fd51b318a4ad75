using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;

namespace Washwear.Api.Tests.Commands;

/// <summary>The program on a machine that knows no cultures, as small containers do: a named culture there is an exception.</summary>
public sealed class WithoutCulturesTests
{
    private const string AdminKey = "test-administrator-key-0123456789";
    private const string Listens = "Washwear listens on ";

    private static readonly string[] Pages =
    [
        "/", "/units", "/sites", "/cleaning", "/approvals", "/repairs", "/failures", "/part-life", "/planning", "/planning/parts", "/planning/stock",
        "/planning/forecast?days=64", "/alerts", "/digest", "/v1/plan/calendar.ics", "/charts/planning/forecast.svg",
    ];

    [Fact]
    public async Task Every_page_answers_on_a_machine_without_cultures()
    {
        string folder = Directory.CreateTempSubdirectory("washwear-test-").FullName;
        using Process service = Start(folder);
        try
        {
            using var client = new HttpClient { BaseAddress = await AddressAsync(service) };
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", AdminKey);
            var failed = new List<string>();
            foreach (string page in Pages)
            {
                using HttpResponseMessage answer = await client.GetAsync(page);
                if (answer.StatusCode >= HttpStatusCode.InternalServerError)
                {
                    failed.Add(page);
                }
            }

            Assert.Empty(failed);
        }
        finally
        {
            service.Kill();
            await service.WaitForExitAsync();
            Directory.Delete(folder, recursive: true);
        }
    }

    private static Process Start(string folder) => Process.Start(new ProcessStartInfo(
        "dotnet", [typeof(Program).Assembly.Location, "serve", "--urls", "http://127.0.0.1:0", "--database", Path.Combine(folder, "washwear.db")])
    {
        RedirectStandardOutput = true,
        WorkingDirectory = folder,
        Environment = { ["WASHWEAR_ADMIN_KEY"] = AdminKey, ["DOTNET_SYSTEM_GLOBALIZATION_INVARIANT"] = "1" },
    })!;

    private static async Task<Uri> AddressAsync(Process service)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        while (await service.StandardOutput.ReadLineAsync(patience.Token) is { } line)
        {
            if (line.StartsWith(Listens, StringComparison.Ordinal))
            {
                _ = service.StandardOutput.ReadToEndAsync(CancellationToken.None);
                return new Uri(line[Listens.Length..].Split(' ', ',')[0]);
            }
        }

        throw new InvalidOperationException("The program ended before it told its address.");
    }
}
