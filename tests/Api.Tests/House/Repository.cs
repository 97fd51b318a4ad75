using System.Diagnostics;

namespace Washwear.Api.Tests.House;

/// <summary>The repository that the tests were built from.</summary>
internal static class Repository
{
    /// <summary>Its root folder.</summary>
    public static string Root { get; } = FindRoot(AppContext.BaseDirectory);

    /// <summary>Source files below a folder, without what the build makes.</summary>
    /// <param name="folder">Folder below the root.</param>
    /// <param name="patterns">File patterns.</param>
    public static IEnumerable<string> Files(string folder, params string[] patterns) =>
        patterns.SelectMany(pattern => Directory.EnumerateFiles(Path.Combine(Root, folder), pattern, SearchOption.AllDirectories))
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)
                && !file.Contains($"{Path.DirectorySeparatorChar}bin{Path.DirectorySeparatorChar}", StringComparison.Ordinal));

    /// <summary>Path from the root, with slashes.</summary>
    /// <param name="file">Full path.</param>
    public static string Short(string file) => Path.GetRelativePath(Root, file).Replace('\\', '/');

    /// <summary>The files that git tracks.</summary>
    public static IReadOnlyList<string> Tracked()
    {
        using var git = Process.Start(new ProcessStartInfo("git", ["-C", Root, "ls-files"]) { RedirectStandardOutput = true })!;
        string[] names = git.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        git.WaitForExit();
        return [.. names.Select(name => Path.Combine(Root, name))];
    }

    private static string FindRoot(string from) => File.Exists(Path.Combine(from, "Washwear.slnx"))
        ? from
        : FindRoot(Path.GetDirectoryName(from.TrimEnd(Path.DirectorySeparatorChar)) ?? throw new InvalidOperationException("No Washwear.slnx above the tests."));
}
