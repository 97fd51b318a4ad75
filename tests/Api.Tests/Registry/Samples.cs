namespace Washwear.Api.Tests.Registry;

/// <summary>A small invented registry, as JSON.</summary>
public static class Samples
{
    public const string Operator = """{"name":"Harbour Kitchens (invented)"}""";

    public const string Site = """
        {"operator":"harbour","name":"Pier 4","time_zone":"Europe/Vienna","region":"north","stock_point":"van 2",
         "water_hardness_mg_per_l":210.5,"trading_days":{"weekdays":["mon","tue","wed","thu","fri","sat"],"ends_at":"02:00"},
         "closures":[{"from":"2026-12-24","to":"2026-12-26","reason":"holidays"},{"from":"2027-01-01"}]}
        """;

    public const string Model = """
        {"name":"Ten-tray oven","kind":"combi oven",
         "positions":[
           {"position":"wash-pump","name":"Wash pump","failure_modes":["leaks","seized"],"part_numbers":["P/100-2"],
            "companions":["suction-hose"],"replace_minutes":35,"part_cost":180.5,"planned_visit_cost":90,"failure_cost":400},
           {"position":"suction-hose","name":"Pump suction hose"}],
         "programmes":[{"programme":"short","grade":"light","minutes":45},{"programme":"long","grade":"intensive","detergent_doses":2}],
         "faults":[{"code":"E21","text":"No water circulates","locks_out_washing":true,
            "causes":[{"position":"wash-pump","failure_mode":"seized","cause":"scale","prior_weight":3}],
            "checks":[{"check":"turn-impeller","text":"Turn the impeller by hand","minutes":5,"positions":["wash-pump"],
                       "chance_of_missing":0.1,"hazards":["electric","caustic"]}]}]}
        """;

    public const string Unit = """{"site":"PIER-4","model":"T10","serial":"S/1","commissioned_on":"2023-05-01","reporting_hours":48}""";

    public const string Rule = """{"scope":{"operator":"harbour"},"grade":"standard","every_trading_days":1,"grace_hours":2,"basis":"House rule 7"}""";

    /// <summary>Puts the small registry, with one unit named OVEN-1.</summary>
    public static async Task PutAllAsync(HttpClient client)
    {
        foreach ((string path, string body) in new[]
        {
            ("/v1/operators/harbour", Operator), ("/v1/sites/pier-4", Site), ("/v1/models/T10", Model), ("/v1/units/OVEN-1", Unit),
            ("/v1/rules/daily", Rule),
        })
        {
            using HttpResponseMessage answer = await PutAsync(client, path, body);
            Assert.True(answer.IsSuccessStatusCode, path + ": " + await answer.Content.ReadAsStringAsync());
        }
    }

    public static Task<HttpResponseMessage> PutAsync(HttpClient client, string path, string body) =>
        client.PutAsync(path, new StringContent(body, System.Text.Encoding.UTF8, "application/json"));
}
