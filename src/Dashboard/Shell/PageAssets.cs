using System.Security.Cryptography;
using System.Text;

namespace Washwear.Dashboard.Shell;

/// <summary>A file that pages need.</summary>
/// <param name="Name">File name.</param>
/// <param name="ContentType">Media type.</param>
/// <param name="Content">The bytes.</param>
/// <param name="Mark">Mark of the content: changes when the content does.</param>
public sealed record Asset(string Name, string ContentType, ReadOnlyMemory<byte> Content, string Mark);

/// <summary>The style sheet, script and icon, which travel inside the assembly.</summary>
public static class PageAssets
{
    /// <summary>The service worker, which may look after every page though it lies among the assets.</summary>
    public const string Worker = "visit-worker.js";

    private const string Prefix = "assets/";

    private const string TextPrefix = "texts/";

    // What both the pages and the worker need is written once, and comes before each of them; what fills texts and the script of figures go with that of
    // every page.
    private static readonly Dictionary<string, string[]> Before = new()
    {
        ["outbox.js"] = ["outbox-store.js"],
        [Worker] = ["outbox-store.js"],
        ["site.js"] = ["texts.js", "figures.js"],
    };

    private static readonly Dictionary<string, Asset> ByName = Load();

    /// <summary>All files.</summary>
    public static IReadOnlyCollection<Asset> All => ByName.Values;

    /// <summary>Finds a file.</summary>
    /// <param name="name">File name, such as site.css.</param>
    /// <returns>The file; null if there is none of this name.</returns>
    public static Asset? Find(string name) => ByName.GetValueOrDefault(name);

    /// <summary>The address of a file.</summary>
    /// <param name="name">File name; one that exists.</param>
    /// <returns>The address with the content's mark.</returns>
    public static string Url(string name) => Urls.Asset(name, ByName[name].Mark);

    /// <summary>The address of the texts that scripts tell, in the language of the present reader.</summary>
    /// <param name="name">What the files are called before Scripts: those of FrameScripts.en.json are FrameTexts to a script.</param>
    /// <returns>The address with the content's mark.</returns>
    public static string TextsUrl(string name) => Url(TextsName(name, ReaderPreferences.Current.Language));

    private static Dictionary<string, Asset> Load() => typeof(PageAssets).Assembly
        .GetManifestResourceNames()
        .Where(name => name.StartsWith(Prefix, StringComparison.Ordinal))
        .Select(name => Read(name[Prefix.Length..]))
        .Concat(ReaderPreferences.Languages.SelectMany(language => ScriptTexts(language.Code)))
        .ToDictionary(asset => asset.Name, StringComparer.Ordinal);

    private static Asset Read(string name)
    {
        using var copy = new MemoryStream();
        foreach (string part in Before.GetValueOrDefault(name, []).Append(name))
        {
            using Stream stream = typeof(PageAssets).Assembly.GetManifestResourceStream(Prefix + part)!;
            stream.CopyTo(copy);
        }

        // The colours of charts are written once, in the palette; pages get them with the rest of the style sheet.
        if (name == "site.css")
        {
            copy.Write(Encoding.UTF8.GetBytes(Inks.Css()));
        }

        return Of(name, copy.ToArray());
    }

    // The content policy lets no script stand in a page: what scripts tell comes as one more file.
    private static IEnumerable<Asset> ScriptTexts(string language)
    {
        string suffix = $"Scripts.{language}.json";
        foreach (string resource in typeof(PageAssets).Assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(TextPrefix, StringComparison.Ordinal) && name.EndsWith(suffix, StringComparison.Ordinal)))
        {
            string name = resource[TextPrefix.Length..^suffix.Length];
            using var texts = new StreamReader(typeof(PageAssets).Assembly.GetManifestResourceStream(resource)!);
            yield return Of(TextsName(name, language), Encoding.UTF8.GetBytes($"const {name}Texts = {texts.ReadToEnd().Trim()};\n"));
        }
    }

    private static string TextsName(string name, string language) => $"{name.ToLowerInvariant()}-texts.{language}.js";

    private static Asset Of(string name, byte[] content) => new(name, ContentType(name), content, Convert.ToHexStringLower(SHA256.HashData(content))[..12]);

    private static string ContentType(string name) => Path.GetExtension(name) switch
    {
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".svg" => "image/svg+xml",
        string other => throw new InvalidOperationException("No media type is known for " + other + "."),
    };
}
