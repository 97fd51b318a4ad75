using Microsoft.SqlServer.TransactSql.ScriptDom;

namespace Washwear.Api.Tests.Storage;

/// <summary>A source of columns that a query may name.</summary>
/// <param name="Alias">Its name in the query.</param>
/// <param name="Columns">Its columns.</param>
internal sealed record TsqlSource(string Alias, IReadOnlyList<string> Columns);

/// <summary>What a query may name: its own sources, then those of the query around it.</summary>
/// <param name="outer">The query around it.</param>
internal sealed class TsqlScope(TsqlScope? outer)
{
    public TsqlScope? Outer => outer;

    public List<TsqlSource> Sources { get; } = [];
}

/// <summary>Looks every table and column that a statement names up in the migrations, and every function in the list of those that
/// are known to run everywhere. The parser alone would take any name.</summary>
internal sealed partial class TsqlNames(SqlServerSchema schema)
{
    private readonly Dictionary<string, IReadOnlyList<string>> _ctes = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>What is wrong.</summary>
    public List<string> Problems { get; } = [];

    /// <summary>Names of the columns that the last outermost query gives out; empty where one has none.</summary>
    public IReadOnlyList<string> Output { get; private set; } = [];

    /// <summary>Checks one statement.</summary>
    /// <param name="statement">The statement.</param>
    public void Check(TSqlStatement statement)
    {
        if (statement is StatementWithCtesAndXmlNamespaces { WithCtesAndXmlNamespaces: { } with })
        {
            foreach (CommonTableExpression cte in with.CommonTableExpressions)
            {
                Cte(cte);
            }
        }

        switch (statement)
        {
            case SelectStatement select:
                Output = Query(select.QueryExpression, null, isOutermost: true);
                break;
            case InsertStatement insert:
                Insert(insert.InsertSpecification);
                break;
            case UpdateStatement update:
                Update(update.UpdateSpecification);
                break;
            case DeleteStatement delete:
                Delete(delete.DeleteSpecification);
                break;
            default:
                Problems.Add($"{statement.GetType().Name} is not among what runs everywhere");
                break;
        }
    }

    private static string NameOf(TableReferenceWithAlias table, string own) => table.Alias?.Value ?? own;

    private void Cte(CommonTableExpression cte)
    {
        string name = cte.ExpressionName.Value;
        IReadOnlyList<string> given = [.. cte.Columns.Select(column => column.Value)];

        // One that calls itself is known by the columns of its first part.
        QueryExpression first = cte.QueryExpression;
        while (first is BinaryQueryExpression both)
        {
            first = both.FirstQueryExpression;
        }

        _ctes[name] = given.Count > 0 ? given : first is QuerySpecification start ? [.. start.SelectElements.Select(OutputName)] : [];
        IReadOnlyList<string> columns = Query(cte.QueryExpression, null);
        _ctes[name] = given.Count > 0 ? given : columns;
    }

    private IReadOnlyList<string> Query(QueryExpression query, TsqlScope? outer, bool isOutermost = false)
    {
        if (!isOutermost && query.OrderByClause is not null && query.OffsetClause is null && (query as QuerySpecification)?.TopRowFilter is null)
        {
            Problems.Add("ORDER BY within a statement, without a number of rows");
        }

        switch (query)
        {
            case QueryParenthesisExpression parenthesis:
                return Query(parenthesis.QueryExpression, outer, isOutermost);
            case BinaryQueryExpression both:
                IReadOnlyList<string> columns = Query(both.FirstQueryExpression, outer);
                int second = Query(both.SecondQueryExpression, outer).Count;
                if (second != columns.Count)
                {
                    Problems.Add($"{columns.Count} and {second} columns in one union");
                }

                if (both.OrderByClause is { } order)
                {
                    Columns(order, new TsqlScope(outer) { Sources = { new TsqlSource(string.Empty, columns) } });
                }

                return columns;
            case QuerySpecification specification:
                return Specification(specification, outer);
            default:
                Problems.Add($"a query of kind {query.GetType().Name}");
                return [];
        }
    }

    private List<string> Specification(QuerySpecification query, TsqlScope? outer)
    {
        var scope = new TsqlScope(outer);
        foreach (TableReference table in query.FromClause?.TableReferences ?? [])
        {
            From(table, scope);
        }

        var output = new List<string>();
        foreach (SelectElement element in query.SelectElements)
        {
            Columns(element, scope);
            if (element is SelectStarExpression star)
            {
                output.AddRange(scope.Sources.Where(source => star.Qualifier is null || Same(source.Alias, star.Qualifier.Identifiers[^1].Value))
                    .SelectMany(source => source.Columns));
                continue;
            }

            output.Add(OutputName(element));
            if (element is SelectScalarExpression { ColumnName: { } name } scalar && name.StartOffset < scalar.Expression.StartOffset)
            {
                Problems.Add($"'{name.Value} = …' as a value");
            }
        }

        if (query.TopRowFilter is { WithTies: true })
        {
            Problems.Add("TOP WITH TIES");
        }

        Each(scope, query.WhereClause, query.GroupByClause, query.HavingClause, query.OffsetClause, query.TopRowFilter);
        if (query.OrderByClause is { } order)
        {
            // An order may name what is given out.
            var named = new TsqlScope(scope) { Sources = { new TsqlSource(string.Empty, [.. output.Where(name => name.Length > 0)]) } };
            Columns(order, named);
        }

        Grouping(query);
        return output;
    }

    private void From(TableReference table, TsqlScope scope)
    {
        switch (table)
        {
            case NamedTableReference named:
                string name = named.SchemaObject.BaseIdentifier.Value;
                Add(scope, NameOf(named, name), ColumnsOf(name));
                if (named.TableHints.Count > 0)
                {
                    Problems.Add($"a hint at {name}");
                }

                break;
            case QualifiedJoin join:
                From(join.FirstTableReference, scope);
                From(join.SecondTableReference, scope);
                Columns(join.SearchCondition, scope);
                break;
            case UnqualifiedJoin join:
                From(join.FirstTableReference, scope);
                From(join.SecondTableReference, scope);
                break;
            case JoinParenthesisTableReference parenthesis:
                From(parenthesis.Join, scope);
                break;
            case QueryDerivedTable derived:
                IReadOnlyList<string> columns = Query(derived.QueryExpression, scope);
                Add(scope, derived.Alias.Value, derived.Columns.Count > 0 ? [.. derived.Columns.Select(column => column.Value)] : columns);
                break;
            case InlineDerivedTable values:
                foreach (ScalarExpression value in values.RowValues.SelectMany(row => row.ColumnValues))
                {
                    Columns(value, scope);
                }

                Add(scope, values.Alias.Value, [.. values.Columns.Select(column => column.Value)]);
                break;
            case OpenJsonTableReference json:
                Columns(json.Variable, scope);
                Add(scope, NameOf(json, "OPENJSON"), json.SchemaDeclarationItems.Count == 0
                    ? ["key", "value", "type"]
                    : [.. json.SchemaDeclarationItems.Select(item => item.ColumnDefinition.ColumnIdentifier.Value)]);
                break;
            case VariableTableReference variable:
                Problems.Add($"a table in the variable {variable.Variable.Name}");
                break;
            default:
                Problems.Add($"a source of kind {table.GetType().Name}");
                break;
        }
    }

    private void Add(TsqlScope scope, string alias, IReadOnlyList<string> columns)
    {
        if (scope.Sources.Exists(source => Same(source.Alias, alias)))
        {
            Problems.Add($"two sources named {alias}");
        }

        scope.Sources.Add(new TsqlSource(alias, columns));
    }

    private IReadOnlyList<string> ColumnsOf(string table)
    {
        if (_ctes.TryGetValue(table, out IReadOnlyList<string>? columns))
        {
            return columns;
        }

        if (schema.Tables.TryGetValue(table, out List<SchemaColumn>? known))
        {
            return [.. known.Select(column => column.Name)];
        }

        Problems.Add($"no table {table}");
        return [];
    }

    private static string OutputName(SelectElement element) => element switch
    {
        SelectScalarExpression { ColumnName: { } name } => name.Value,
        SelectScalarExpression { Expression: ColumnReferenceExpression column } => column.MultiPartIdentifier.Identifiers[^1].Value,
        _ => string.Empty,
    };

    private static bool Same(string one, string other) => one.Equals(other, StringComparison.OrdinalIgnoreCase);
}
