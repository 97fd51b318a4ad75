namespace Washwear.Api.Tests.Upkeep;

/// <summary>A copy of a database that a released program of an older schema wrote; see Data/upgrade.</summary>
internal static class OldDatabase
{
    /// <summary>Key of its administrator.</summary>
    public const string AdminKey = "fixture-administrator-0123456789";

    /// <summary>The first released schema.</summary>
    public const string First = "0004";

    private static string Folder => Path.Combine(AppContext.BaseDirectory, "Data", "upgrade");

    /// <summary>Copies it.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="schema">Number of its schema.</param>
    /// <returns>The copy.</returns>
    public static string In(string folder, string schema = First)
    {
        string file = Path.Combine(folder, "washwear.db");
        File.Copy(Path.Combine(Folder, $"schema-{schema}.db"), file);
        return file;
    }
}
