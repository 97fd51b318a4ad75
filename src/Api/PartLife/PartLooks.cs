using System.Data.Common;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Ingest;

namespace Washwear.Api.PartLife;

/// <summary>
/// What people found when they looked at parts and left them in. A part that was taken out working after its last look found it worn or poor
/// was nearer to its failure than others of its age: its censoring tells something, which the figures have to say.
/// </summary>
internal sealed class PartLooks
{
    private readonly ILookup<(int Unit, string Position), Look> _byPart;

    private PartLooks(IEnumerable<((int Unit, string Position) Part, Look Look)> looks) =>
        _byPart = looks.ToLookup(pair => pair.Part, pair => pair.Look);

    /// <summary>No looks.</summary>
    public static PartLooks None { get; } = new([]);

    /// <summary>Reads all looks that count.</summary>
    /// <param name="queries">Reads them.</param>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<PartLooks> LoadAsync(
        PartLifeQueries queries, DbConnection connection, DbTransaction transaction, CancellationToken cancellationToken) =>
        new((await queries.LooksAsync(connection, transaction, cancellationToken)).SelectMany(Of));

    /// <summary>Whether a part was taken out working after a last look that found it worn or poor.</summary>
    /// <param name="life">The part.</param>
    public bool LookedPoor(in PartLifeRecord life)
    {
        if (life.EndedHow is not ("precaution" or "upgrade") || life.EndedMs is not { } ended)
        {
            return false;
        }

        long fitted = life.FittedMs ?? long.MinValue;
        Look? last = _byPart[(life.UnitId, life.Position.ToUpperInvariant())]
            .Where(look => look.AtMs >= fitted && look.AtMs <= ended && !IsOfTheNextPart(look, ended))
            .OrderBy(look => look.AtMs).LastOrDefault();
        return last?.IsGood == false;
    }

    // A visit that swaps the part and grades it good speaks of the part that it left in.
    private static bool IsOfTheNextPart(Look look, long ended) => look.IsGood && look.UntilMs >= ended;

    private static IEnumerable<((int Unit, string Position) Part, Look Look)> Of(PartLookRecord record)
    {
        IEnumerable<(string Position, bool IsGood)> graded = record.Conditions is { } conditions
            ? (JsonSerializer.Deserialize<PartCondition[]>(conditions, Json.Options) ?? []).Select(each => (each.Position, each.Grade == ConditionGrade.Good))
            : [(record.Position!, record.Grade == "good")];
        return graded.Select(each => (
            (record.UnitId, each.Position.ToUpperInvariant()), new Look(record.AtMs, record.UntilMs, each.IsGood)));
    }

    private sealed record Look(long AtMs, long UntilMs, bool IsGood);
}
