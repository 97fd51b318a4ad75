using Washwear.Api.Ledger;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>The statements of a projection whose rows are those of one ledger table, each as its record says.</summary>
/// <param name="session">The transaction.</param>
/// <param name="sql">The statements, each with the names of its values.</param>
internal abstract class LedgerSpanTable(WriteSession session, LedgerSpanSql sql) : IDisposable
{
    private readonly Appender _insert = Appender.Of(session, sql.Table, sql.InsertRow, sql.Columns);
    private readonly Statement _delete = new(session, sql.DeleteRow, "unit_id", "from_ms", "seq");
    private readonly Statement _deleteUnit = new(session, sql.DeleteUnit, "unit_id");
    private readonly Statement _insertUnit = new(session, sql.InsertUnit, "unit_id");

    /// <summary>Takes a voided one out.</summary>
    /// <param name="unitId">Its unit.</param>
    /// <param name="fromMs">First instant that it names.</param>
    /// <param name="seq">Its number.</param>
    public void Remove(int unitId, long fromMs, long seq)
    {
        _insert.Flush();
        _delete.Run(unitId, fromMs, seq);
    }

    /// <summary>Derives all of a unit anew.</summary>
    /// <param name="unitId">The unit.</param>
    public void Derive(int unitId)
    {
        _deleteUnit.Run(unitId);
        _insertUnit.Run(unitId);
    }

    /// <summary>Writes what waits.</summary>
    public void Flush() => _insert.Flush();

    /// <inheritdoc/>
    public void Dispose()
    {
        _insert.Dispose();
        _delete.Dispose();
        _deleteUnit.Dispose();
        _insertUnit.Dispose();
    }

    /// <summary>Adds one.</summary>
    /// <param name="values">Values of its columns.</param>
    protected void Insert(params ReadOnlySpan<object?> values) => _insert.Add(values);

    /// <summary>An instant as the table holds it.</summary>
    /// <param name="instant">The instant.</param>
    protected static long? Ms(DateTimeOffset? instant) => instant?.ToUnixTimeMilliseconds();
}

/// <summary>Statements of such a projection.</summary>
/// <param name="Table">Its table.</param>
/// <param name="Columns">Columns that a new row gives, in order.</param>
/// <param name="InsertRow">Adds a row.</param>
/// <param name="DeleteRow">Takes a row out by unit, first instant and number.</param>
/// <param name="DeleteUnit">Takes a unit's rows out.</param>
/// <param name="InsertUnit">Adds a unit's rows from the ledger.</param>
internal sealed record LedgerSpanSql(string Table, string[] Columns, string InsertRow, string DeleteRow, string DeleteUnit, string InsertUnit);
