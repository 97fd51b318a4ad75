using System.Text;
using System.Text.Json;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Operation;

/// <summary>The log says what happened, to a file that does not grow for ever, and nothing that is secret or personal.</summary>
public sealed class LogTests
{
    private const string Secret = "never-to-be-logged";

    [Theory]
    [InlineData("json")]
    [InlineData("text")]
    public async Task No_key_no_password_and_no_query_is_ever_logged(string format)
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("washwear-log-");
        await using (ApiHost host = await ApiHost.StartAsync(
            null, ("log_level", "debug"), ("log_format", format), ("log_file", Path.Combine(folder.FullName, "washwear.log"))))
        {
            await Samples.PutAllAsync(host.Admin);
            await host.Admin.GetAsync($"/v1/units?q={Secret}");
            await host.Client(Secret + "-as-a-key-as-a-key").GetAsync("/v1/units");
            await host.Stranger.GetAsync($"/units?q={Secret}");
            await host.Stranger.GetAsync($"/sign-in/link?token={Secret}");
            using var form = new FormUrlEncodedContent([new("key", Secret), new("login", Secret), new("password", Secret)]);
            await host.Stranger.PostAsync("/sign-in", form);
            using var body = new StringContent($$"""{"type":"wash","key":"{{Secret}}","unit":7}""", Encoding.UTF8, "application/json");
            await host.Admin.PostAsync($"/v1/records?source={Secret}", body);
            await Samples.PutAsync(host.Admin, "/v1/webhooks/ops", $$"""{"url":"https://example.invalid/{{Secret}}?token={{Secret}}"}""");
        }

        string log = string.Concat(folder.GetFiles().Select(file => File.ReadAllText(file.FullName)));
        Assert.Contains("/v1/units", log, StringComparison.Ordinal);
        Assert.Contains("/sign-in/link", log, StringComparison.Ordinal);
        Assert.DoesNotContain(Secret, log, StringComparison.Ordinal);
        Assert.DoesNotContain("test-administrator-key", log, StringComparison.Ordinal);
        if (format == "json")
        {
            Assert.All(log.Split('\n', StringSplitOptions.RemoveEmptyEntries), line => Assert.NotEmpty(JsonDocument.Parse(line).RootElement.GetProperty("@t").GetString()!));
        }

        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task Log_files_are_closed_at_their_size_and_the_oldest_go()
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("washwear-log-");
        await using (ApiHost host = await ApiHost.StartAsync(
            null, ("log_level", "information"), ("log_format", "json"), ("log_file", Path.Combine(folder.FullName, "washwear.log")), ("log_file_mib", "1"), ("log_file_count", "2")))
        {
            await Parallel.ForEachAsync(Enumerable.Range(0, 12_000), new ParallelOptions { MaxDegreeOfParallelism = 16 }, async (_, stop) =>
                (await host.Stranger.GetAsync("/health/live", stop)).Dispose());
        }

        FileInfo[] files = folder.GetFiles();
        Assert.Equal(2, files.Length);
        Assert.All(files, file => Assert.InRange(file.Length, 1, (1024 * 1024) + 4096));
        Assert.Contains(files, file => file.Length > 1024 * 1024 / 2);
        folder.Delete(recursive: true);
    }
}
