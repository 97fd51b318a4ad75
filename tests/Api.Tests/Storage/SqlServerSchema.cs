using Microsoft.SqlServer.TransactSql.ScriptDom;
using Washwear.Api.Tests.House;

namespace Washwear.Api.Tests.Storage;

/// <summary>A column as a schema has it.</summary>
/// <param name="Name">Name.</param>
/// <param name="Family">integer, real, text or blob.</param>
/// <param name="Nullable">Whether it may be null.</param>
/// <param name="KeyPlace">Place in the primary key, from 1; 0: not part of it.</param>
/// <param name="IsGiven">Whether the engine gives a value when none is told.</param>
internal sealed record SchemaColumn(string Name, string Family, bool Nullable, int KeyPlace, bool IsGiven);

/// <summary>What the scripts of db/sqlserver make, read by the parser of SQL Server 2019; nothing is run.</summary>
internal sealed class SqlServerSchema
{
    private static readonly Lazy<SqlServerSchema> Once = new(Read);
    private readonly Dictionary<string, List<SchemaColumn>> _tables = new(StringComparer.Ordinal);

    private SqlServerSchema()
    {
    }

    public static SqlServerSchema Current => Once.Value;

    /// <summary>Columns by table.</summary>
    public IReadOnlyDictionary<string, List<SchemaColumn>> Tables => _tables;

    /// <summary>What the parser finds wrong in the scripts.</summary>
    public List<string> Problems { get; } = [];

    /// <summary>Names of the indexes.</summary>
    public HashSet<string> Indexes { get; } = new(StringComparer.Ordinal);

    /// <summary>Parses a text with quoted identifiers on, as SqlClient sets them.</summary>
    /// <param name="text">The text.</param>
    /// <param name="problems">What is wrong with it.</param>
    public static TSqlScript Parse(string text, out IReadOnlyList<string> problems)
    {
        using var reader = new StringReader(text);
        var script = (TSqlScript)new TSql150Parser(initialQuotedIdentifiers: true).Parse(reader, out IList<ParseError> errors);
        problems = [.. errors.Select(error => $"line {error.Line}, column {error.Column}: {error.Message}")];
        return script;
    }

    private static SqlServerSchema Read()
    {
        var schema = new SqlServerSchema();
        foreach (string file in Directory.GetFiles(Path.Combine(Repository.Root, "db", "sqlserver"), "*.sql").Order(StringComparer.Ordinal))
        {
            TSqlScript script = Parse(File.ReadAllText(file), out IReadOnlyList<string> problems);
            schema.Problems.AddRange(problems.Select(problem => Path.GetFileName(file) + " " + problem));
            foreach (TSqlStatement statement in script?.Batches.SelectMany(batch => batch.Statements) ?? [])
            {
                schema.Take(statement, Path.GetFileName(file));
            }
        }

        return schema;
    }

    private static SchemaColumn ColumnOf(ColumnDefinition column, IReadOnlyList<string> key)
    {
        string name = column.ColumnIdentifier.Value;
        bool ownKey = column.Constraints.OfType<UniqueConstraintDefinition>().Any(constraint => constraint.IsPrimaryKey);
        bool nullable = column.Constraints.OfType<NullableConstraintDefinition>().LastOrDefault()?.Nullable ?? true;
        return new SchemaColumn(
            name, FamilyOf((SqlDataTypeReference)column.DataType), nullable, ownKey ? 1 : key.ToList().IndexOf(name) + 1,
            column.IdentityOptions is not null || column.DefaultConstraint is not null);
    }

    private static string FamilyOf(SqlDataTypeReference type) => type.SqlDataTypeOption switch
    {
        SqlDataTypeOption.BigInt => "integer",
        SqlDataTypeOption.Float => "real",
        SqlDataTypeOption.NVarChar => "text",
        SqlDataTypeOption.VarBinary => "blob",
        _ => "none of the four: " + type.SqlDataTypeOption,
    };

    private void Take(TSqlStatement statement, string file)
    {
        switch (statement)
        {
            case CreateTableStatement table:
                string[] key =
                [
                    .. table.Definition.TableConstraints.OfType<UniqueConstraintDefinition>().Where(constraint => constraint.IsPrimaryKey)
                        .SelectMany(constraint => constraint.Columns).Select(column => column.Column.MultiPartIdentifier.Identifiers[^1].Value),
                ];
                _tables.Add(
                    table.SchemaObjectName.BaseIdentifier.Value, [.. table.Definition.ColumnDefinitions.Select(column => ColumnOf(column, key))]);
                Problems.AddRange(table.Definition.ColumnDefinitions
                    .Where(column => FamilyOf((SqlDataTypeReference)column.DataType) == "text" && column.Collation?.Value != "Latin1_General_BIN2")
                    .Select(column => $"{file}: {column.ColumnIdentifier.Value} lacks COLLATE Latin1_General_BIN2"));
                break;
            case AlterTableAddTableElementStatement added:
                _tables[added.SchemaObjectName.BaseIdentifier.Value].AddRange(
                    added.Definition.ColumnDefinitions.Select(column => ColumnOf(column, [])));
                if (added.Definition.ColumnDefinitions.Count > 1)
                {
                    Problems.Add($"{file}: several columns in one ADD");
                }

                break;
            case CreateIndexStatement index:
                Indexes.Add(index.Name.Value);
                break;
            case InsertStatement or UpdateStatement or DeleteStatement or DropIndexStatement or CreateTriggerStatement:
                break;
            case DropTableStatement dropped:
                dropped.Objects.ToList().ForEach(name => _tables.Remove(name.BaseIdentifier.Value));
                break;
            default:
                Problems.Add($"{file}: {statement.GetType().Name} is not known to run everywhere");
                break;
        }
    }
}
