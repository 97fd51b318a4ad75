using System.Text;
using Washwear.Api.Messages;
using Washwear.Api.Tests.Mqtt;

namespace Washwear.Api.Tests.Messages;

public sealed class MappingFileTests
{
    [Fact]
    public void A_good_file_has_no_problems_and_keeps_the_order_of_its_topics()
    {
        IReadOnlyList<Subscription> subscriptions = MappingFile.Read(Encoding.UTF8.GetBytes(MqttHost.Mapping), out IReadOnlyList<MappingProblem> problems);

        Assert.Empty(problems);
        Assert.Equal(["kitchens/+/+/record", "kitchens/+/+/wash", "serials/+/hours", "alive/+"], subscriptions.Select(one => one.Pattern.Filter));
    }

    [Theory]
    [InlineData("{", 1, "(whole file)", "not_json")]
    [InlineData("{\"subscriptions\":[],\n\"subscriptions\":[]}", 2, "subscriptions", "twice")]
    [InlineData("{\n\"subscriptions\": []}", 2, "subscriptions", "empty")]
    [InlineData("{\"subscriptions\":[\n{\"topic\":\"a\",\"payload\":\"yaml\"}]}", 2, "subscriptions[0].payload", "kind")]
    [InlineData("{\"subscriptions\":[\n{\"topic\":\"a\",\n\"payload\":\"record\",\n\"qos\":1}]}", 4, "subscriptions[0].qos", "unknown_field")]
    [InlineData("{\"subscriptions\":[\n{\"topic\":\"a/#/b\",\"payload\":\"record\"}]}", 2, "subscriptions[0].topic", "topic")]
    [InlineData("{\"subscriptions\":[{\"topic\":\"a/{Unit}\",\"payload\":\"record\"}]}", 1, "subscriptions[0].topic", "topic")]
    [InlineData("{\"subscriptions\":[{\"topic\":\"a/{u}/{u}\",\"payload\":\"record\"}]}", 1, "subscriptions[0].topic", "topic")]
    [InlineData("{\"subscriptions\":[{\"topic\":\"a\",\"payload\":\"json\"}]}", 1, "subscriptions[0].records", "records")]
    [InlineData("{\"subscriptions\":[{\"topic\":\"a/{x}\",\"payload\":\"record\"},\n{\"topic\":\"a/+\",\"payload\":\"record\"}]}", 2, "subscriptions[1].topic", "twice")]
    public void A_file_that_cannot_be_used_says_where_and_why(string json, int line, string field, string rule)
    {
        MappingProblem problem = Assert.Single(Problems(json));

        Assert.Equal((line, field, rule), (problem.Line, problem.Problem.Field, problem.Problem.Rule));
        Assert.NotEmpty(problem.Problem.Mend);
    }

    [Theory]
    [InlineData("""{"type":"laundry","unit":{"level":"unit"}}""", "type", "unknown_type")]
    [InlineData("""{"type":"heartbeat"}""", "unit", "unit")]
    [InlineData("""{"type":"heartbeat","unit":{"level":"oven"}}""", "unit.level", "unknown_level")]
    [InlineData("""{"type":"heartbeat","unit":{"template":"x-{oven}"}}""", "unit.template", "unknown_level")]
    [InlineData("""{"type":"heartbeat","unit":{"level":"unit","path":"/u"}}""", "unit", "one_origin")]
    [InlineData("""{"type":"heartbeat","unit":{}}""", "unit", "one_origin")]
    [InlineData("""{"type":"heartbeat","unit":{"path":"u"}}""", "unit.path", "path")]
    [InlineData("""{"type":"heartbeat","unit":{"level":"unit","optional":true}}""", "unit.optional", "must")]
    [InlineData("""{"type":"heartbeat","unit":{"level":"unit"},"at":{"path":"/t","by":"serial"}}""", "at.by", "no_unit")]
    [InlineData("""{"type":"wash","unit":{"level":"unit"},"fields":{"outcome":{"path":"/o"}}}""", "key", "no_identity")]
    [InlineData("""{"type":"wash","unit":{"level":"unit"},"at":{"path":"/t"}}""", "fields.outcome", "required")]
    [InlineData("""{"type":"wash","unit":{"level":"unit"},"at":{"path":"/t"},"fields":{"outcome":{"constant":"done"}}}""", "fields.outcome", "unknown_word")]
    [InlineData("""{"type":"wash","unit":{"level":"unit"},"at":{"path":"/t"},"fields":{"outcome":{"path":"/o","map":{"1":"done"}}}}""", "fields.outcome", "unknown_word")]
    [InlineData("""{"type":"wash","unit":{"level":"unit"},"at":{"path":"/t"},"fields":{"outcome":{"path":"/o","time":"iso"}}}""", "fields.outcome.time", "no_instant")]
    [InlineData("""{"type":"wash","unit":{"level":"unit"},"at":{"path":"/t"},"fields":{"outcome":{"path":"/o"},"code":{"path":"/c"}}}""", "fields.code", "unknown_field")]
    [InlineData("""{"type":"wash","unit":{"level":"unit"},"at":{"path":"/t"},"fields":{"outcome":{"path":"/o"},"started_at":{"path":"/c"}}}""", "fields.started_at", "own_place")]
    [InlineData("""{"type":"wash","unit":{"level":"unit"},"at":{"path":"/t"},"fields":{"outcome":{"constant":["completed"]}}}""", "fields.outcome.constant", "kind")]
    [InlineData("""{"type":"meter","unit":{"level":"unit"},"fields":{"washes_total":{"payload":true}}}""", "fields.washes_total.payload", "path")]
    [InlineData("""{"type":"meter","unit":{"level":"unit"},"fields":{"washes_total":{"path":7}}}""", "fields.washes_total.path", "kind")]
    public void A_record_that_could_not_be_made_is_told_before_any_message_comes(string record, string field, string rule)
    {
        IReadOnlyList<MappingProblem> problems = Problems("{\"subscriptions\":[\n{\"topic\":\"a/{unit}\",\"payload\":\"json\",\"records\":[\n" + record + "]}]}");

        Assert.Contains(("subscriptions[0].records[0]." + field, rule), problems.Select(problem => (problem.Problem.Field, problem.Problem.Rule)));
        Assert.All(problems, problem => Assert.Equal(3, problem.Line));
    }

    [Fact]
    public async Task A_broken_mapping_ends_the_start_with_every_problem_and_its_line()
    {
        await using Broker broker = await Broker.StartAsync();
        (string Name, string Value)[] settings = await MqttHost.SettingsAsync(broker, "{\"subscriptions\":[\n{\"topic\":\"a\",\"payload\":\"yaml\"},\n{\"topik\":\"b\",\"payload\":\"record\"}]}");

        SettingException error = await Assert.ThrowsAsync<SettingException>(() => ApiHost.StartAsync(settings: settings));

        Assert.Contains("line 2, subscriptions[0].payload:", error.Message, StringComparison.Ordinal);
        Assert.Contains("line 3, subscriptions[1].topik:", error.Message, StringComparison.Ordinal);
        SettingException none = await Assert.ThrowsAsync<SettingException>(() => ApiHost.StartAsync(settings: settings[..2]));
        Assert.Contains("mqtt_mapping", none.Message, StringComparison.Ordinal);
    }

    private static IReadOnlyList<MappingProblem> Problems(string json)
    {
        Assert.Empty(MappingFile.Read(Encoding.UTF8.GetBytes(json), out IReadOnlyList<MappingProblem> problems));
        return problems;
    }
}
