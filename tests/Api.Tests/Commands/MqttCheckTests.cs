using Washwear.Api.Tests.House;
using Washwear.Api.Tests.Mqtt;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Commands;

/// <summary>A mapping is tried before it is used.</summary>
public sealed class MqttCheckTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-command-test-").FullName;

    [Fact]
    public async Task The_example_of_the_documentation_can_be_used()
    {
        string doc = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "docs", "mqtt.md"));
        string example = doc.Split("```json\n")[1].Split("```")[0];
        await File.WriteAllTextAsync(At("mapping.json"), example);

        CommandRun run = await CommandRun.OfAsync(_folder, "mqtt-check", "mapping.json");

        Assert.Equal((0, ""), (run.Code, run.Complaint));
        Assert.Contains("kitchens/+/+/wash as json: wash; source", run.Out, StringComparison.Ordinal);
        Assert.Contains("heartbeat (at: when it arrives)", run.Out, StringComparison.Ordinal);
        Assert.Equal([At("mapping.json")], Directory.EnumerateFileSystemEntries(_folder));
    }

    [Fact]
    public async Task A_mapping_that_cannot_be_used_is_told_line_by_line()
    {
        await File.WriteAllTextAsync(At("mapping.json"), "{\"subscriptions\":[\n{\"topic\":\"a\",\"payload\":\"yaml\"},\n{\"topic\":\"b\",\"payload\":\"json\"}]}");

        CommandRun run = await CommandRun.OfAsync(_folder, "mqtt-check", "mapping.json");

        Assert.Equal(2, run.Code);
        Assert.Contains("line 2, subscriptions[0].payload:", run.Complaint, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_payload_shows_its_records_what_is_wrong_with_them_and_takes_nothing_in()
    {
        string file = At("washwear.db");
        await using ApiHost host = await ApiHost.StartAsync(settings: ("database", file));
        await Samples.PutAllAsync(host.Admin);
        await File.WriteAllTextAsync(At("mapping.json"), MqttHost.Mapping);
        await File.WriteAllTextAsync(At("good.json"), """{"began":1772330400,"ended":1772336100,"cycle":17,"result":0}""");
        await File.WriteAllTextAsync(At("bad.json"), """{"began":1772330400,"result":0}""");

        CommandRun run = await CommandRun.OfAsync(
            _folder, "mqtt-check", "mapping.json", "--database", file, "--topic", "kitchens/pier/OVEN-1/wash", "--payload", "good.json", "bad.json");

        Assert.Equal(1, run.Code);
        Assert.Contains("\"key\":\"OVEN-1/17\"", run.Out, StringComparison.Ordinal);
        Assert.Contains("would be refused: key:", run.Out, StringComparison.Ordinal);
        Assert.Empty(await MqttHost.RecordsAsync(host));
        Assert.Empty(await MqttHost.RefusedAsync(host));
    }

    [Fact]
    public async Task Values_of_the_information_model_are_tried_as_one_sequence()
    {
        string file = At("washwear.db");
        await using ApiHost host = await ApiHost.StartAsync(settings: ("database", file));
        await Samples.PutAllAsync(host.Admin);
        await File.WriteAllTextAsync(At("mapping.json"), Equipment.EquipmentFixture.Mapping);
        await File.WriteAllTextAsync(At("1.json"), Equipment.EquipmentFixture.Mode("2026-03-02T01:00:00Z", 8));
        await File.WriteAllTextAsync(At("2.json"), Equipment.EquipmentFixture.Mode("2026-03-02T02:00:00Z", 0));
        string[] arguments = ["mqtt-check", "mapping.json", "--database", file, "--topic", "opcua/OVEN-1/combi", "--payload", "1.json", "--payload", "2.json"];

        CommandRun first = await CommandRun.OfAsync(_folder, arguments);
        CommandRun second = await CommandRun.OfAsync(_folder, arguments);

        Assert.Contains("\"type\":\"wash\",\"key\":\"cleaning/OVEN-1/2026-03-02T01:00:00Z\"", first.Out, StringComparison.Ordinal);
        Assert.Equal(first.Out, second.Out);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string At(string name) => Path.Combine(_folder, name);
}
