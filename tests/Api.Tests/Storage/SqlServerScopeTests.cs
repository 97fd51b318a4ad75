using Microsoft.SqlServer.TransactSql.ScriptDom;
using Washwear.Api.Storage.Scopes;

namespace Washwear.Api.Tests.Storage;

/// <summary>What keeps scopes apart on SQL Server, read by its parser, as no such server is at hand.</summary>
public sealed class SqlServerScopeTests
{
    private static readonly TSqlStatement[] Statements = [.. Parsed(SqlServerScopes.Script).Batches.SelectMany(batch => batch.Statements)];

    private static IEnumerable<SecurityPredicateAction> Filters =>
        Assert.Single(Statements.OfType<CreateSecurityPolicyStatement>()).SecurityPredicateActions;

    [Fact]
    public void The_policy_filters_every_table_but_the_shared_ones()
    {
        Assert.Equal(
            ScopedTables.All.Where(table => table.Reach != TableReach.Shared && table.Name != "SchemaVersions").Select(table => table.Name).Order(StringComparer.Ordinal),
            Filters.Select(filter => filter.TargetObjectName.BaseIdentifier.Value).Order(StringComparer.Ordinal));
        Assert.All(Filters, filter => Assert.Equal(SecurityPredicateType.Filter, filter.SecurityPredicateType));
        Assert.Equal(
            SqlServerSchema.Current.Tables.Keys.Order(StringComparer.Ordinal),
            ScopedTables.All.Select(table => table.Name).Where(name => name != "SchemaVersions").Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Each_filter_hands_a_function_as_many_columns_of_its_table_as_it_takes()
    {
        Dictionary<string, CreateFunctionStatement> functions = Statements.OfType<CreateFunctionStatement>().ToDictionary(one => one.Name.BaseIdentifier.Value);

        Assert.All(Filters, filter =>
        {
            CreateFunctionStatement function = functions[filter.FunctionCall.FunctionName.Value];
            Assert.Equal(function.Parameters.Count, filter.FunctionCall.Parameters.Count);
            string table = filter.TargetObjectName.BaseIdentifier.Value;
            string[] columns = [.. SqlServerSchema.Current.Tables[table].Select(column => column.Name)];
            Assert.Empty(Columns.Of(filter.FunctionCall).Except(columns));
        });
        Assert.All(functions.Values, function => Assert.Contains(function.Options, option => option.OptionKind == FunctionOptionKind.SchemaBinding));
    }

    [Fact]
    public void Functions_name_only_what_there_is()
    {
        var names = new TsqlNames(SqlServerSchema.Current);
        foreach (CreateFunctionStatement function in Statements.OfType<CreateFunctionStatement>())
        {
            names.Check(((SelectFunctionReturnType)function.ReturnType).SelectStatement);
        }

        // The session's scope is asked for here alone.
        Assert.Equal([], names.Problems.Where(problem => !problem.Contains("SESSION_CONTEXT", StringComparison.OrdinalIgnoreCase)));
    }

    // A filter that asked for its own table, or two that asked for each other's, would go round in circles.
    [Fact]
    public void No_filter_asks_in_the_end_for_its_own_table()
    {
        Dictionary<string, string[]> asked = Statements.OfType<CreateFunctionStatement>()
            .ToDictionary(one => one.Name.BaseIdentifier.Value, one => Tables.Of(one.ReturnType));
        Dictionary<string, string[]> next = Filters.ToDictionary(
            filter => filter.TargetObjectName.BaseIdentifier.Value, filter => asked[filter.FunctionCall.FunctionName.Value]);

        foreach (string table in next.Keys)
        {
            HashSet<string> reached = [];
            var open = new Stack<string>(next[table]);
            while (open.TryPop(out string? one))
            {
                Assert.NotEqual(table, one);
                if (reached.Add(one))
                {
                    next.GetValueOrDefault(one, []).ToList().ForEach(open.Push);
                }
            }
        }
    }

    [Fact]
    public void What_gives_a_session_its_scope_parses() => Parsed(
        "DECLARE @own_operators NVARCHAR(4000), @own_sites NVARCHAR(4000), @own_units NVARCHAR(4000);\n" + SqlServerScopes.Set);

    private static TSqlScript Parsed(string text)
    {
        TSqlScript script = SqlServerSchema.Parse(text, out IReadOnlyList<string> problems);
        Assert.True(problems.Count == 0, string.Join('\n', problems));
        return script;
    }

    private sealed class Columns : TSqlFragmentVisitor
    {
        private readonly List<string> _names = [];

        public static List<string> Of(TSqlFragment fragment)
        {
            var columns = new Columns();
            fragment.Accept(columns);
            return columns._names;
        }

        public override void Visit(ColumnReferenceExpression node) => _names.Add(node.MultiPartIdentifier.Identifiers[^1].Value);
    }

    private sealed class Tables : TSqlFragmentVisitor
    {
        private readonly HashSet<string> _names = [];

        public static string[] Of(TSqlFragment fragment)
        {
            var tables = new Tables();
            fragment.Accept(tables);
            return [.. tables._names];
        }

        public override void Visit(NamedTableReference node) => _names.Add(node.SchemaObject.BaseIdentifier.Value);
    }
}
