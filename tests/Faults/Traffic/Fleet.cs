using System.Globalization;
using System.Text;
using System.Text.Json;

namespace Washwear.Faults.Traffic;

/// <summary>A small invented fleet: one kitchen chain, ovens of one model, a rule a day.</summary>
internal static class Fleet
{
    /// <summary>How many ovens there are.</summary>
    public const int Units = 16;

    private const string Operator = """{"name":"Harbour Kitchens (invented)"}""";

    private const string Site = """
        {"operator":"harbour","name":"Pier 4","time_zone":"Europe/Vienna",
         "trading_days":{"weekdays":["mon","tue","wed","thu","fri","sat"],"ends_at":"02:00"}}
        """;

    private const string Model = """
        {"name":"Ten-tray oven","kind":"combi oven",
         "positions":[
           {"position":"wash-pump","name":"Wash pump","failure_modes":["leaks","seized"],"companions":["suction-hose"],"replace_minutes":35},
           {"position":"suction-hose","name":"Pump suction hose"}],
         "programmes":[{"programme":"short","grade":"light","minutes":45},{"programme":"long","grade":"intensive","detergent_doses":2}],
         "faults":[{"code":"E21","text":"No water circulates","locks_out_washing":true},{"code":"E30","text":"Drain slow"}]}
        """;

    private const string Rule = """{"scope":{"operator":"harbour"},"grade":"standard","every_trading_days":1,"grace_hours":2,"basis":"House rule 7"}""";

    /// <summary>Asset tag of an oven.</summary>
    /// <param name="number">Its number from 0.</param>
    public static string Unit(int number) => string.Create(CultureInfo.InvariantCulture, $"OVEN-{number:00}");

    /// <summary>An oven as it is put.</summary>
    /// <param name="serial">Its serial number.</param>
    /// <param name="reportingHours">After how many hours of silence it is asked after; moves the cleaning terms.</param>
    public static string UnitBody(string serial, int reportingHours) => JsonSerializer.Serialize(new
    {
        site = "PIER-4",
        model = "T10",
        serial,
        commissioned_on = "2023-05-01",
        reporting_hours = reportingHours,
    });

    /// <summary>Puts all of it.</summary>
    /// <param name="client">A client that may.</param>
    public static async Task PutAsync(HttpClient client)
    {
        var bodies = new List<(string Path, string Body)>
        {
            ("/v1/operators/harbour", Operator), ("/v1/sites/pier-4", Site), ("/v1/models/T10", Model), ("/v1/rules/daily", Rule),
        };
        bodies.AddRange(Enumerable.Range(0, Units).Select(number => ("/v1/units/" + Unit(number), UnitBody("S/0", 48))));
        foreach ((string path, string body) in bodies)
        {
            using HttpResponseMessage answer = await PutAsync(client, path, body);
            if (!answer.IsSuccessStatusCode)
            {
                throw new InvalidOperationException($"{path}: {await answer.Content.ReadAsStringAsync()}");
            }
        }
    }

    /// <summary>Puts one resource.</summary>
    /// <param name="client">A client that may.</param>
    /// <param name="path">Its address.</param>
    /// <param name="body">The resource as JSON.</param>
    public static Task<HttpResponseMessage> PutAsync(HttpClient client, string path, string body) =>
        client.PutAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
}
