using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Accounts;

/// <summary>Statements over how people like to read.</summary>
internal static class PreferenceQueries
{
    private const string FindSql = "SELECT chosen FROM person_preference WHERE person_id = @person";
    private const string ChangeSql = "UPDATE person_preference SET chosen = @chosen WHERE person_id = @person";
    private const string AddSql = "INSERT INTO person_preference (person_id, chosen) VALUES (@person, @chosen)";
    private const string ForgetSql = "DELETE FROM person_preference WHERE person_id = @person";

    /// <summary>What a person has chosen; null: nothing.</summary>
    public static Task<string?> FindAsync(DbConnection connection, long person, CancellationToken cancellationToken) =>
        connection.ExecuteScalarAsync<string?>(new CommandDefinition(FindSql, new { person }, cancellationToken: cancellationToken));

    /// <summary>Keeps what a person has chosen; where that is nothing, no row is left.</summary>
    public static async Task KeepAsync(WriteSession session, long person, string chosen, CancellationToken cancellationToken)
    {
        if (chosen.Length == 0)
        {
            await session.Connection.ExecuteAsync(session.Command(ForgetSql, new { person }, cancellationToken));
        }
        else if (await session.Connection.ExecuteAsync(session.Command(ChangeSql, new { person, chosen }, cancellationToken)) == 0)
        {
            await session.Connection.ExecuteAsync(session.Command(AddSql, new { person, chosen }, cancellationToken));
        }
    }
}
