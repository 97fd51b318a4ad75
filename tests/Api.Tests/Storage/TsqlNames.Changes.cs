using Microsoft.SqlServer.TransactSql.ScriptDom;

namespace Washwear.Api.Tests.Storage;

/// <content>Statements that change rows.</content>
internal sealed partial class TsqlNames
{
    private void Insert(InsertSpecification insert)
    {
        if (insert.Target is not NamedTableReference target || !schema.Tables.TryGetValue(target.SchemaObject.BaseIdentifier.Value, out List<SchemaColumn>? table))
        {
            Problems.Add("an insert into what is no table");
            return;
        }

        string[] given = [.. insert.Columns.Select(column => column.MultiPartIdentifier.Identifiers[^1].Value)];
        Problems.AddRange(given.Where(name => !table.Exists(column => column.Name == name)).Select(name => $"no column {name} to insert into"));
        Problems.AddRange(table.Where(column => !column.Nullable && !column.IsGiven && !given.Contains(column.Name))
            .Select(column => $"nothing is inserted into {column.Name}"));
        int values = insert.InsertSource switch
        {
            SelectInsertSource select => Query(select.Select, null).Count,
            ValuesInsertSource rows => Values(rows, given.Length),
            _ => -1,
        };
        if (values != given.Length)
        {
            Problems.Add($"{values} values for {given.Length} columns");
        }

        GivenOut(insert.OutputClause, table);
    }

    private int Values(ValuesInsertSource rows, int columns)
    {
        foreach (ScalarExpression value in rows.RowValues.SelectMany(row => row.ColumnValues))
        {
            Columns(value, new TsqlScope(null));
        }

        return rows.RowValues.FirstOrDefault(row => row.ColumnValues.Count != columns)?.ColumnValues.Count ?? columns;
    }

    private void Update(UpdateSpecification update)
    {
        (TsqlScope scope, List<SchemaColumn>? table) = Target(update);
        if (update.OutputClause is not null && update.FromClause is not null)
        {
            Problems.Add("OUTPUT together with UPDATE ... FROM");
        }

        foreach (AssignmentSetClause set in update.SetClauses.OfType<AssignmentSetClause>())
        {
            string name = set.Column?.MultiPartIdentifier.Identifiers[^1].Value ?? "a variable";
            if (table?.Exists(column => column.Name == name) == false)
            {
                Problems.Add($"no column {name} to set");
            }

            Columns(set.NewValue, scope);
        }

        Each(scope, update.WhereClause);
        GivenOut(update.OutputClause, table);
    }

    private void Delete(DeleteSpecification delete)
    {
        (TsqlScope scope, List<SchemaColumn>? table) = Target(delete);
        Each(scope, delete.WhereClause);
        GivenOut(delete.OutputClause, table);
    }

    // The target is a table, or the alias of one among the sources.
    private (TsqlScope Scope, List<SchemaColumn>? Table) Target(UpdateDeleteSpecificationBase change)
    {
        var scope = new TsqlScope(null);
        foreach (TableReference source in change.FromClause?.TableReferences ?? [])
        {
            From(source, scope);
        }

        string name = (change.Target as NamedTableReference)?.SchemaObject.BaseIdentifier.Value ?? "a variable";
        NamedTableReference? aliased = Named(change.FromClause?.TableReferences ?? []).FirstOrDefault(table => Same(NameOf(table, string.Empty), name));
        string table = aliased?.SchemaObject.BaseIdentifier.Value ?? name;
        if (_ctes.ContainsKey(table) || !schema.Tables.TryGetValue(table, out List<SchemaColumn>? columns))
        {
            Problems.Add($"{table} is no table to change");
            return (scope, null);
        }

        if (change.FromClause is null)
        {
            Add(scope, NameOf((NamedTableReference)change.Target, name), [.. columns.Select(column => column.Name)]);
        }

        return (scope, columns);
    }

    private static IEnumerable<NamedTableReference> Named(IEnumerable<TableReference> tables) => tables.SelectMany(table => table switch
    {
        NamedTableReference named => [named],
        JoinTableReference join => Named([join.FirstTableReference, join.SecondTableReference]),
        _ => [],
    });

    private void GivenOut(OutputClause? output, List<SchemaColumn>? table)
    {
        if (output is null || table is null)
        {
            return;
        }

        var scope = new TsqlScope(null);
        string[] columns = [.. table.Select(column => column.Name)];
        scope.Sources.AddRange([new TsqlSource("inserted", columns), new TsqlSource("deleted", columns)]);
        foreach (SelectElement element in output.SelectColumns)
        {
            Columns(element, scope);
        }
    }
}
