using System.Reflection;
using System.Xml.Linq;
using Microsoft.AspNetCore.Components;

namespace Washwear.Dashboard.Tests;

/// <summary>What a page may show is written down: a report, each field with its meaning.</summary>
public sealed class ReportContractTests
{
    private static readonly Assembly Pages = typeof(Dashboard.Shell.Urls).Assembly;

    [Fact]
    public void Every_field_of_every_report_says_what_it_means()
    {
        XDocument documentation = XDocument.Load(Path.ChangeExtension(Pages.Location, ".xml"));
        var texts = documentation.Descendants("member").ToDictionary(member => (string)member.Attribute("name")!);
        var missing = new List<string>();
        foreach (Type type in Records())
        {
            XElement? own = texts.GetValueOrDefault("T:" + type.FullName);
            missing.AddRange(type.GetProperties(BindingFlags.Public | BindingFlags.Instance | BindingFlags.DeclaredOnly)
                .Where(property => !Says(own, property.Name) && !Says(texts.GetValueOrDefault($"P:{type.FullName}.{property.Name}"), null))
                .Select(property => type.Name + "." + property.Name));
        }

        Assert.Empty(missing);
    }

    [Fact]
    public void Reports_cannot_change_after_they_are_made()
    {
        Assert.NotEmpty(Records());
        Assert.All(Records(), type =>
        {
            Assert.True(type.IsSealed, type.Name);
            Assert.All(type.GetProperties(), property => Assert.True(
                property.SetMethod is null || property.SetMethod.ReturnParameter.GetRequiredCustomModifiers().Length > 0,
                type.Name + "." + property.Name));
        });
    }

    [Fact]
    public void A_page_takes_its_report_and_its_context_and_nothing_else()
    {
        Type[] all = [.. Pages.GetTypes().Where(type => type.Name.EndsWith("Page", StringComparison.Ordinal)
            && type.IsAssignableTo(typeof(IComponent)))];
        Assert.True(all.Length >= 11, $"only {all.Length} pages");
        Assert.All(all, page => Assert.Equal(
            ["Context", "Report"],
            page.GetProperties().Where(property => property.IsDefined(typeof(ParameterAttribute))).Select(property => property.Name)
                .Order()));
    }

    private static Type[] Records() =>
        [.. Pages.GetExportedTypes().Where(type => type.IsClass && type.GetMethod("<Clone>$") is not null && type.Name != "Chart")];

    private static bool Says(XElement? member, string? parameter)
    {
        XElement? text = parameter is null
            ? member?.Element("summary")
            : member?.Elements("param").FirstOrDefault(each => (string?)each.Attribute("name") == parameter);
        return !string.IsNullOrWhiteSpace(text?.Value);
    }
}
