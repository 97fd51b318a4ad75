using System.Collections.Frozen;
using Microsoft.SqlServer.TransactSql.ScriptDom;

namespace Washwear.Api.Tests.Storage;

/// <content>Columns, functions and grouping within expressions.</content>
internal sealed partial class TsqlNames
{
    private static readonly FrozenSet<string> Aggregates =
        FrozenSet.Create(StringComparer.OrdinalIgnoreCase, "count", "count_big", "sum", "min", "max", "avg", "string_agg");

    // How many values each takes, at least and at most.
    private static readonly FrozenDictionary<string, (int Least, int Most)> Functions = new Dictionary<string, (int, int)>
    {
        ["count"] = (1, 1),
        ["count_big"] = (1, 1),
        ["sum"] = (1, 1),
        ["min"] = (1, 1),
        ["max"] = (1, 1),
        ["avg"] = (1, 1),
        ["string_agg"] = (2, 2),
        ["abs"] = (1, 1),
        ["floor"] = (1, 1),
        ["ceiling"] = (1, 1),
        ["round"] = (2, 2),
        ["power"] = (2, 2),
        ["exp"] = (1, 1),
        ["log"] = (1, 1),
        ["sqrt"] = (1, 1),
        ["lower"] = (1, 1),
        ["upper"] = (1, 1),
        ["len"] = (1, 1),
        ["datalength"] = (1, 1),
        ["substring"] = (3, 3),
        ["replace"] = (3, 3),
        ["charindex"] = (2, 3),
        ["ltrim"] = (1, 1),
        ["rtrim"] = (1, 1),
        ["concat"] = (2, 99),
        ["isnull"] = (2, 2),
        ["json_value"] = (2, 2),
        ["json_query"] = (2, 2),
        ["isjson"] = (1, 1),
        ["scope_identity"] = (0, 0),
        ["serverproperty"] = (1, 1),
        ["row_number"] = (0, 0),
        ["rank"] = (0, 0),
        ["dense_rank"] = (0, 0),
        ["lag"] = (1, 3),
        ["lead"] = (1, 3),
        ["first_value"] = (1, 1),
        ["last_value"] = (1, 1),
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    private void Each(TsqlScope scope, params ReadOnlySpan<TSqlFragment?> fragments)
    {
        foreach (TSqlFragment? fragment in fragments)
        {
            if (fragment is not null)
            {
                Columns(fragment, scope);
            }
        }
    }

    // Queries within are left to their own scope.
    private void Columns(TSqlFragment fragment, TsqlScope scope) => fragment.Accept(new ColumnFinder(this, scope));

    private void Column(ColumnReferenceExpression column, TsqlScope scope)
    {
        if (column.ColumnType != ColumnType.Regular)
        {
            return;
        }

        IList<Identifier> parts = column.MultiPartIdentifier.Identifiers;
        string name = parts[^1].Value;
        for (TsqlScope? around = scope; around is not null; around = around.Outer)
        {
            TsqlSource[] sources = [.. around.Sources.Where(source => parts.Count == 1 || Same(source.Alias, parts[^2].Value))];
            int found = sources.Count(source => source.Columns.Contains(name, StringComparer.OrdinalIgnoreCase));
            if (found > 1)
            {
                Problems.Add($"{name} may be of several sources");
            }

            if (found > 0)
            {
                return;
            }

            if (parts.Count > 1 && sources.Length > 0)
            {
                break;
            }
        }

        Problems.Add($"no column {string.Join('.', parts.Select(part => part.Value))}");
    }

    private void Function(FunctionCall call)
    {
        string name = call.FunctionName.Value;
        if (!Functions.TryGetValue(name, out (int Least, int Most) values))
        {
            Problems.Add($"the function {name} is not among those known to run everywhere");
        }
        else if (call.Parameters.Count < values.Least || call.Parameters.Count > values.Most)
        {
            Problems.Add($"{name} with {call.Parameters.Count} values");
        }

        if (Same(name, "avg") && call.Parameters is not [CastCall or ConvertCall or BinaryExpression])
        {
            Problems.Add("avg of what may be a whole number: cast it to FLOAT");
        }
    }

    // Every column that is given out is grouped by, or goes into a figure over the group.
    private void Grouping(QuerySpecification query)
    {
        string[] groups = [.. query.GroupByClause?.GroupingSpecifications.Select(TextOf) ?? []];
        if (query.GroupByClause?.GroupingSpecifications.Any(group => group is ExpressionGroupingSpecification { Expression: Literal }) == true)
        {
            Problems.Add("GROUP BY a number");
        }

        var figures = new AggregateFinder();
        query.SelectElements.ToList().ForEach(element => element.Accept(figures));
        query.HavingClause?.Accept(figures);
        if (query.GroupByClause is null && !figures.Found)
        {
            return;
        }

        var loose = new LooseColumnFinder(groups);
        query.SelectElements.ToList().ForEach(element => element.Accept(loose));
        query.HavingClause?.Accept(loose);
        string[] names = [.. query.SelectElements.Select(OutputName)];
        foreach (ExpressionWithSortOrder order in query.OrderByClause?.OrderByElements ?? [])
        {
            if (order.Expression is not ColumnReferenceExpression { MultiPartIdentifier.Identifiers: [{ } only] } || !names.Contains(only.Value))
            {
                order.Accept(loose);
            }
        }

        Problems.AddRange(loose.Found.Distinct().Select(column => $"{column} is neither grouped by nor summed up"));
    }

    private static string TextOf(TSqlFragment fragment) => string.Concat(fragment.ScriptTokenStream
        .Skip(fragment.FirstTokenIndex).Take(fragment.LastTokenIndex - fragment.FirstTokenIndex + 1)
        .Where(token => token.TokenType is not (TSqlTokenType.WhiteSpace or TSqlTokenType.SingleLineComment or TSqlTokenType.MultilineComment))
        .Select(token => token.Text.ToUpperInvariant() + " "));

    private sealed class ColumnFinder(TsqlNames names, TsqlScope scope) : TSqlFragmentVisitor
    {
        public override void ExplicitVisit(ColumnReferenceExpression node) => names.Column(node, scope);

        public override void ExplicitVisit(ScalarSubquery node) => names.Query(node.QueryExpression, scope);

        public override void ExplicitVisit(FunctionCall node)
        {
            names.Function(node);
            base.ExplicitVisit(node);
        }

        public override void ExplicitVisit(LikePredicate node)
        {
            // SQLite's LIKE does not tell a from A; in the collation of these tables SQL Server's does.
            if (node.FirstExpression is not FunctionCall { FunctionName.Value: { } name } || !Same(name, "lower"))
            {
                names.Problems.Add("LIKE tells cases apart here: compare lower(…)");
            }

            base.ExplicitVisit(node);
        }
    }

    private sealed class AggregateFinder : TSqlFragmentVisitor
    {
        public bool Found { get; private set; }

        public override void ExplicitVisit(FunctionCall node)
        {
            Found |= Aggregates.Contains(node.FunctionName.Value) && node.OverClause is null;
            base.ExplicitVisit(node);
        }

        public override void ExplicitVisit(ScalarSubquery node)
        {
        }
    }

    private sealed class LooseColumnFinder(string[] groups) : TSqlFragmentVisitor
    {
        public List<string> Found { get; } = [];

        public override void ExplicitVisit(FunctionCall node)
        {
            if ((Aggregates.Contains(node.FunctionName.Value) && node.OverClause is null) || groups.Contains(TextOf(node)))
            {
                return;
            }

            base.ExplicitVisit(node);
        }

        public override void ExplicitVisit(SelectScalarExpression node)
        {
            if (!groups.Contains(TextOf(node.Expression)))
            {
                base.ExplicitVisit(node);
            }
        }

        public override void ExplicitVisit(BinaryExpression node) => Unless(node, () => base.ExplicitVisit(node));

        public override void ExplicitVisit(SearchedCaseExpression node) => Unless(node, () => base.ExplicitVisit(node));

        public override void ExplicitVisit(CastCall node) => Unless(node, () => base.ExplicitVisit(node));

        public override void ExplicitVisit(ColumnReferenceExpression node)
        {
            if (node.ColumnType == ColumnType.Regular && !groups.Contains(TextOf(node)))
            {
                Found.Add(TextOf(node).Replace(" ", string.Empty, StringComparison.Ordinal));
            }
        }

        public override void ExplicitVisit(ScalarSubquery node)
        {
        }

        private void Unless(TSqlFragment node, Action visit)
        {
            if (!groups.Contains(TextOf(node)))
            {
                visit();
            }
        }
    }
}
