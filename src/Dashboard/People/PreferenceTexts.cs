using System.Globalization;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.People;

/// <summary>The words of the form in which somebody chooses how to read.</summary>
internal static class PreferenceTexts
{
    /// <summary>Its fields, each with its label, what happens if nothing is chosen, and what can be chosen.</summary>
    /// <param name="reads">How the reader reads now.</param>
    /// <param name="example">A date to show.</param>
    public static IEnumerable<(string Field, string Label, string Usual, IReadOnlyList<Choice> Choices)> Rows(ReaderPreferences reads, DateOnly example)
    {
        yield return ("role", "Your work", "All of it", Words("role", code => code switch
        {
            "technician" => "I go to the ovens",
            "service" => "I send technicians",
            "operator" => "They are my kitchens",
            "planner" => "I plan visits and parts",
            _ => "All of it",
        }));
        yield return ("culture", "Numbers and dates", "As my browser asks for", [.. ReadingCulture.All.Select(culture => new Choice(culture.Code, Shown(culture, reads, example)))]);
        yield return ("language", "Language", "As my browser asks for", ReaderPreferences.Languages);
        yield return ("volume", "Volumes", "Litres", Words("volume", code => code == "gallons" ? "US gallons" : "Litres"));
        yield return ("temperature", "Temperatures", "°C", Words("temperature", code => code == "fahrenheit" ? "°F" : "°C"));
        yield return ("hardness", "Hardness of water", "mg/L", Words("hardness", code => code switch
        {
            "grains_per_gallon" => "Grains per US gallon (gpg)",
            "german_degrees" => "German degrees (°dH)",
            "french_degrees" => "French degrees (°fH)",
            _ => "mg/L, as calcium carbonate",
        }));
        yield return ("first_day", "A week begins on", "As usual in the country", Words("first_day", Text.Words));
        yield return ("clock", "Clock", "As usual in the country", Words("clock", code => code == "12" ? "2:05 PM" : "14:05"));
    }

    private static Choice[] Words(string field, Func<string, string> words) =>
        [.. PreferenceWords.Codes(field)!.Select(code => new Choice(code, words(code)))];

    private static string Shown(ReadingCulture culture, ReaderPreferences reads, DateOnly example)
    {
        using (ReaderPreferences.Use(reads with { Culture = culture }))
        {
            return string.Create(CultureInfo.InvariantCulture, $"{culture.Name}: {Text.Tick(1234.5)}, {Text.Date(example)}");
        }
    }
}
