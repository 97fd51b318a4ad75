using System.Security.Cryptography;
using System.Text;
using Washwear.Api.Ledger;
using Washwear.Api.Storage;

namespace Washwear.Api.Erasure;

/// <summary>One erasure, within its transaction.</summary>
/// <param name="session">The transaction.</param>
/// <param name="names">Finds the names.</param>
/// <param name="pseudonym">What stands in their place.</param>
/// <param name="newSource">What a source of one of the names is called from now on.</param>
/// <param name="now">The instant.</param>
internal sealed class Erasing(WriteSession session, NameText names, string pseudonym, Func<string, string> newSource, DateTimeOffset now)
{
    private readonly Dictionary<string, int> _replaced = [];
    private int _photos;
    private int _keys;

    /// <summary>Whether one of the names stands where people are named.</summary>
    public async Task<bool> IsAnybodyAsync()
    {
        bool named = ErasureQueries.Ledger.Concat(ErasureQueries.Others).Where(place => place.NamesPeople)
            .Any(place => ErasureQueries.Find(session, place, names.IsIn).Count > 0);
        return named
            || new[] { ErasureQueries.Audit, ErasureQueries.Keys }.Any(place => ErasureQueries.Find(session, place, names.IsWhole).Count > 0)
            || (await ErasureQueries.SourcesAsync(session, names)).Count > 0;
    }

    /// <summary>Replaces the names.</summary>
    /// <param name="accounts">Accounts of the person, which are closed.</param>
    public async Task<ErasureReport> RunAsync(IReadOnlyList<Account> accounts)
    {
        foreach (Account account in accounts)
        {
            await ErasureQueries.CloseAccountAsync(session, account.Id, pseudonym, now);
        }

        Count("person.name", accounts.Count);
        await LedgerAsync();
        await SourcesAsync();
        await RefusedAsync();
        foreach (NamePlace place in ErasureQueries.Others)
        {
            await ReplaceAsync(place, names.IsIn);
        }

        await ReplaceAsync(ErasureQueries.Audit, names.IsWhole);
        await KeysAsync();
        Count("request_key.answer", await ErasureQueries.ForgetAnswersAsync(session, names));
        return new ErasureReport(
            pseudonym, [.. _replaced.OrderBy(place => place.Key, StringComparer.Ordinal).Select(place => new ReplacedPlace(place.Key, place.Value))], _photos, _keys);
    }

    // A record that did not say what was taken in before is not made whole by this.
    private async Task LedgerAsync()
    {
        foreach (IGrouping<string, NamePlace> table in ErasureQueries.Ledger.GroupBy(place => place.Table))
        {
            var found = new List<(NamePlace Place, long Seq, string Text)>();
            foreach (NamePlace place in table)
            {
                found.AddRange(ErasureQueries.Find(session, place, names.IsIn).Select(row => (place, row.Id, row.Text)));
            }

            foreach (IGrouping<long, (NamePlace Place, long Seq, string Text)> record in found.GroupBy(row => row.Seq))
            {
                bool wasWhole = StoredRecords.Find(session, table.Key, record.Key) is { IsWhole: true };
                foreach ((NamePlace place, long seq, string text) in record)
                {
                    await ErasureQueries.WriteAsync(session, place, seq, names.Replace(text));
                    Count(place.Name, 1);
                    _photos += place.Name == "visit.technician" ? await ErasureQueries.DeletePhotosAsync(session, seq) : 0;
                }

                if (wasWhole && StoredRecords.Find(session, table.Key, record.Key)?.Record is { } said)
                {
                    await ErasureQueries.KeepHashAsync(session, record.Key, new ContentHash().Of(said));
                }
            }
        }
    }

    private async Task SourcesAsync()
    {
        foreach (string source in await ErasureQueries.SourcesAsync(session, names))
        {
            _photos += await ErasureQueries.DeletePhotosAsync(session, source);
            Count("record.source", await ErasureQueries.RenameSourceAsync(session, source, newSource(source)));
        }
    }

    private async Task RefusedAsync()
    {
        foreach ((long id, string text) in ErasureQueries.Find(session, ErasureQueries.Refused, names.IsIn))
        {
            string rest = names.Replace(text);
            await ErasureQueries.WriteRefusedAsync(session, id, rest, SHA256.HashData(Encoding.UTF8.GetBytes(rest)));
            Count(ErasureQueries.Refused.Name, 1);
        }

        await ReplaceAsync(ErasureQueries.RefusedProblems, names.IsIn);
    }

    // Names of keys are told apart by their numbers.
    private async Task KeysAsync()
    {
        foreach ((long id, string _) in ErasureQueries.Find(session, ErasureQueries.Keys, names.IsWhole))
        {
            await ErasureQueries.WriteAsync(session, ErasureQueries.Keys, id, FormattableString.Invariant($"{pseudonym}, key {id}"));
            await ErasureQueries.RevokeAsync(session, id, now);
            _keys++;
        }

        Count(ErasureQueries.Keys.Name, _keys);
    }

    private async Task ReplaceAsync(NamePlace place, Func<string, bool> isMeant)
    {
        foreach ((long id, string text) in ErasureQueries.Find(session, place, isMeant))
        {
            await ErasureQueries.WriteAsync(session, place, id, names.Replace(text));
            Count(place.Name, 1);
        }
    }

    private void Count(string place, int rows)
    {
        if (rows > 0)
        {
            _replaced[place] = _replaced.GetValueOrDefault(place) + rows;
        }
    }
}
