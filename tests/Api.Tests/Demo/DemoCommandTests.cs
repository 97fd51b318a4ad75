using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Xunit.Abstractions;

namespace Washwear.Api.Tests.Demo;

/// <summary>The command as a person starts it: a process of its own, real files, real HTTP.</summary>
public sealed class DemoCommandTests(ITestOutputHelper output) : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-demo-test-").FullName;

    [Fact]
    public async Task It_fills_a_fresh_folder_gives_way_where_the_port_is_taken_and_signs_in_by_its_link_once()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        string address = $"http://{taken.LocalEndpoint}";
        string folder = Path.Combine(_folder, "fresh");
        using Process demo = Start("demo", "--units", "7", "--folder", folder, "--urls", address);
        try
        {
            List<string> lines = await LinesUntilAsync(demo, line => line.StartsWith("Open ", StringComparison.Ordinal));
            lines.ForEach(output.WriteLine);
            var link = new Uri(lines[^1]["Open ".Length..]);

            Assert.Contains(lines, line => line.StartsWith(address + " is taken", StringComparison.Ordinal));
            Assert.NotEqual(new Uri(address).Port, link.Port);
            Assert.True(File.Exists(Path.Combine(folder, "washwear.db")));
            await SignInAsync(link);
        }
        finally
        {
            demo.Kill();
            await demo.WaitForExitAsync();
        }
    }

    [Fact]
    public async Task It_leaves_a_folder_that_holds_something_alone()
    {
        string file = Path.Combine(_folder, "mine.txt");
        await File.WriteAllTextAsync(file, "mine");

        (int code, string complaint) = await RunAsync("demo", "--folder", _folder);

        Assert.Equal(1, code);
        Assert.Contains("is not empty", complaint, StringComparison.Ordinal);
        Assert.Equal([file], Directory.EnumerateFileSystemEntries(_folder));
    }

    [Fact]
    public async Task It_writes_nothing_for_a_size_that_it_cannot_make()
    {
        string folder = Path.Combine(_folder, "none");

        (int code, string complaint) = await RunAsync("demo", "--units", "0", "--folder", folder);

        Assert.Equal(1, code);
        Assert.Contains("--units must be from 1 to 10000", complaint, StringComparison.Ordinal);
        Assert.False(Directory.Exists(folder));
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static async Task SignInAsync(Uri link)
    {
        using var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = new CookieContainer() });
        using HttpResponseMessage entered = await client.GetAsync(link);
        string page = await client.GetStringAsync(new Uri(link, "/"));
        using HttpResponseMessage again = await client.GetAsync(link);

        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
        Assert.Contains("nvented", page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Unauthorized, again.StatusCode);
    }

    private static Process Start(params string[] arguments) => Process.Start(
        new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;

    private static async Task<(int Code, string Complaint)> RunAsync(params string[] arguments)
    {
        using Process process = Start(arguments);
        using var patience = new CancellationTokenSource(Patience);
        string complaint = await process.StandardError.ReadToEndAsync(patience.Token);
        await process.WaitForExitAsync(patience.Token);
        return (process.ExitCode, complaint);
    }

    private static async Task<List<string>> LinesUntilAsync(Process process, Predicate<string> isLast)
    {
        using var patience = new CancellationTokenSource(Patience);
        List<string> lines = [];
        while (await process.StandardOutput.ReadLineAsync(patience.Token) is { } line)
        {
            lines.Add(line);
            if (isLast(line))
            {
                return lines;
            }
        }

        throw new InvalidOperationException($"The command ended: {await process.StandardError.ReadToEndAsync(patience.Token)}");
    }
}
