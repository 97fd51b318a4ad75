using System.Data.Common;
using System.Xml.Linq;
using Dapper;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>Keeps the keys of cookies in the database, where several nodes share it, so that a sign-in at one is good at all.</summary>
/// <param name="database">The database.</param>
internal sealed class CookieKeyQueries(Database database) : IXmlRepository
{
    private const string All = "SELECT k.body FROM cookie_key k ORDER BY k.id";
    private const string Add = "INSERT INTO cookie_key (name, body) VALUES (@name, @body)";

    /// <inheritdoc/>
    public IReadOnlyCollection<XElement> GetAllElements()
    {
        using DbConnection connection = database.OpenReadAsync(CancellationToken.None).GetAwaiter().GetResult();
        return [.. connection.Query<string>(All).Select(XElement.Parse)];
    }

    /// <inheritdoc/>
    public void StoreElement(XElement element, string friendlyName) => database.WriteAsync(
        session => session.Connection.ExecuteAsync(
            session.Command(Add, new { name = friendlyName, body = element.ToString(SaveOptions.DisableFormatting) }, CancellationToken.None)),
        CancellationToken.None).GetAwaiter().GetResult();
}
