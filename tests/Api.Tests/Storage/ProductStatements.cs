using System.Collections;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using Washwear.Api.Storage;

namespace Washwear.Api.Tests.Storage;

/// <summary>A text of SQL that stands in a field of the product.</summary>
/// <param name="Place">Type and field.</param>
/// <param name="Text">The text, in the words of each engine.</param>
internal sealed record ProductStatement(string Place, Sql Text)
{
    public override string ToString() => Place;
}

/// <summary>Every text in the fields of the rooms of SQL, private and nested ones too.</summary>
internal static partial class ProductStatements
{
    // These speak to one engine alone.
    private static readonly string[] OneEngine = ["SqliteEngine", "SqlServerEngine", "IntegrityQueries"];

    private static readonly string[] Rooms = ["Washwear.Api.Ledger", "Washwear.Api.Projections", "Washwear.Api.Storage"];

    private static readonly ProductStatement[] Texts = [.. Types().SelectMany(OfType)];

    /// <summary>The statements.</summary>
    public static IReadOnlyList<ProductStatement> All { get; } =
        [.. Texts.Where(text => IsStatement(text.Text.Sqlite) || IsStatement(text.Text.SqlServer))];

    /// <summary>Pieces of SQL that are no statement by themselves.</summary>
    public static IReadOnlyList<ProductStatement> Pieces { get; } =
        [.. Texts.Where(text => !IsStatement(text.Text.Sqlite) && LooksLikeSql().IsMatch(text.Text.Sqlite))];


    /// <summary>Whether a type is a room of SQL.</summary>
    /// <param name="type">The type.</param>
    public static bool IsRoom(Type type)
    {
        Type outer = type;
        while (outer.DeclaringType is { } declaring)
        {
            outer = declaring;
        }

        return outer.Name.EndsWith("Queries", StringComparison.Ordinal) || Rooms.Contains(outer.Namespace);
    }

    private static IEnumerable<Type> Types() => typeof(Database).Assembly.GetTypes()
        .Where(type => IsRoom(type) && !type.ContainsGenericParameters && type.GetCustomAttribute<CompilerGeneratedAttribute>() is null)
        .Where(type => !OneEngine.Contains(type.Name));

    private static IEnumerable<ProductStatement> OfType(Type type)
    {
        FieldInfo[] fields = type.GetFields(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly);
        foreach (FieldInfo field in fields.Where(field => MayHoldText(field.FieldType)))
        {
            foreach (Sql text in TextsOf(field.GetValue(null), 0))
            {
                yield return new ProductStatement($"{type.Name}.{field.Name}", text);
            }
        }
    }

    private static bool MayHoldText(Type type) => type == typeof(string) || type == typeof(Sql) || type == typeof(Sql?) || type.IsArray
        || type.IsGenericType || type.Assembly == typeof(Database).Assembly;

    private static IEnumerable<Sql> TextsOf(object? value, int depth)
    {
        switch (value)
        {
            case string text:
                return [text];
            case Sql sql:
                return [sql];
            case null:
                return [];
            case IEnumerable many when depth < 4:
                return many.Cast<object?>().SelectMany(one => TextsOf(one, depth + 1));
            case ITuple tuple when depth < 4:
                return Enumerable.Range(0, tuple.Length).SelectMany(index => TextsOf(tuple[index], depth + 1));
        }

        Type type = value.GetType();
        bool isOurs = (type.Assembly == typeof(Database).Assembly && !type.IsEnum && !typeof(Delegate).IsAssignableFrom(type))
            || (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(KeyValuePair<,>));
        return isOurs && depth < 4
            ? type.GetFields(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic).SelectMany(field => TextsOf(field.GetValue(value), depth + 1))
            : [];
    }

    private static bool IsStatement(string text) => Begin().IsMatch(text);

    [GeneratedRegex(@"^\s*(SELECT|INSERT|UPDATE|DELETE|WITH|REPLACE|EXEC|IF|DECLARE|SET)\s")]
    private static partial Regex Begin();

    [GeneratedRegex(@"\b(SELECT|FROM|WHERE|JOIN|ORDER BY|GROUP BY|VALUES|INSERT|AND|OR|IS NULL|IS NOT NULL)\b")]
    private static partial Regex LooksLikeSql();
}
