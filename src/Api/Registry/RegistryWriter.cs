using System.Text.Json;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Storage;

namespace Washwear.Api.Registry;

/// <summary>Which stored units and models are different now; new ones are not among them, for nothing was recorded for them. A new rule,
/// though, asks about units that were there before.</summary>
/// <param name="SiteIds">Sites whose content changed.</param>
/// <param name="ModelIds">Models whose content changed.</param>
/// <param name="UnitIds">Units whose content changed.</param>
/// <param name="Rules">Whether a rule is new or changed.</param>
public sealed record RegistryChange(IReadOnlySet<int> SiteIds, IReadOnlySet<int> ModelIds, IReadOnlySet<int> UnitIds, bool Rules)
{
    /// <summary>Whether nothing that records depend on has changed.</summary>
    public bool IsEmpty => SiteIds.Count == 0 && ModelIds.Count == 0 && UnitIds.Count == 0 && !Rules;
}

/// <summary>Keeps something in step with the registry: told in the same transaction, before it is committed.</summary>
public interface IRegistryWatcher
{
    /// <summary>Does what the change asks for; an exception undoes the change.</summary>
    /// <param name="change">What changed.</param>
    /// <param name="after">The registry with the change.</param>
    /// <param name="session">The write transaction.</param>
    /// <param name="cancellationToken">Stops the work and undoes the change.</param>
    Task ChangedAsync(RegistryChange change, RegistrySnapshot after, WriteSession session, CancellationToken cancellationToken);
}

/// <summary>How many resources of a document were new, different or the same.</summary>
/// <param name="Created">New ones.</param>
/// <param name="Changed">Ones that were stored with another content.</param>
/// <param name="Unchanged">Ones that were stored just so.</param>
public sealed record RegistryOutcome(int Created, int Changed, int Unchanged);

/// <summary>Puts resources into the registry, in one transaction, after checking them.</summary>
/// <param name="database">The database.</param>
/// <param name="watchers">Who must be told.</param>
/// <param name="clock">Tells when a rule was changed.</param>
public sealed class RegistryWriter(Database database, IEnumerable<IRegistryWatcher> watchers, TimeProvider clock)
{
    /// <summary>Puts one resource.</summary>
    /// <typeparam name="T">The resource.</typeparam>
    /// <param name="kind">Its kind.</param>
    /// <param name="resource">The resource.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <param name="change">From when on a changed rule holds; null: from the first trading day that has begun nowhere.</param>
    /// <returns>Whether it is new, or what is wrong.</returns>
    public Task<(bool Created, IReadOnlyList<FieldProblem> Problems)> PutAsync<T>(
        RegistryKind<T> kind, T resource, CancellationToken cancellationToken, RuleChange? change = null)
        where T : class => database.WriteAsync<(bool, IReadOnlyList<FieldProblem>)>(
        async session =>
        {
            KnownCodes known = await KnownAsync(session, resource, cancellationToken);
            IReadOnlyList<FieldProblem> problems = RegistryRules.Check(resource, known);
            if (problems.Count == 0 && resource is RuleResource rule)
            {
                problems = RuleOverlaps.Find([rule], await RegistryQueries.LoadAsync(session, cancellationToken), _ => string.Empty);
            }

            if (problems.Count == 0 && resource is SupplierResource supplier)
            {
                RegistrySnapshot stored = await RegistryQueries.LoadAsync(session, cancellationToken);
                problems = [.. PlanRules.TooSlow([supplier], stored.Plan.Terms.HorizonWeeks, _ => "lead_time_days")];
            }

            if (problems.Count > 0)
            {
                return (false, problems);
            }

            var tally = new Tally();
            await PutAsync(session, kind, resource, tally, change ?? new RuleChange(clock.GetUtcNow()), cancellationToken);
            await FinishAsync(session, tally, cancellationToken);
            return (tally.Created == 1, problems);
        },
        cancellationToken);

    /// <summary>Puts a whole document: adds what is new, changes what is different, removes nothing.</summary>
    /// <param name="document">The document.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>What was done, or what is wrong.</returns>
    public Task<(RegistryOutcome? Outcome, IReadOnlyList<FieldProblem> Problems)> PutAsync(
        RegistryDocument document, CancellationToken cancellationToken) => database.WriteAsync<(RegistryOutcome?, IReadOnlyList<FieldProblem>)>(
        async session =>
        {
            var known = new KnownCodes();
            RegistrySnapshot stored = await RegistryQueries.LoadAsync(session, cancellationToken);
            known.AddAll(stored);
            IReadOnlyList<FieldProblem> problems =
            [
                .. RegistryRules.Check(document, known),
                .. RuleOverlaps.Find(document.Rules, stored, i => FormattableString.Invariant($"rules[{i}]")),
                .. PlanTermsWriter.TooSlow(document, stored),
            ];
            if (problems.Count > 0)
            {
                return (null, problems);
            }

            var tally = new Tally();
            RuleChange change = new(clock.GetUtcNow());
            await PutAllAsync(session, RegistryKinds.Operators, document.Operators, tally, change, cancellationToken);
            await PutAllAsync(session, RegistryKinds.Sites, document.Sites, tally, change, cancellationToken);
            await PutAllAsync(session, RegistryKinds.Models, document.Models, tally, change, cancellationToken);
            await PutAllAsync(session, RegistryKinds.Units, document.Units, tally, change, cancellationToken);
            await PutRulesAsync(session, document, tally, change, cancellationToken);
            await PutAllAsync(session, RegistryKinds.Suppliers, document.Suppliers ?? [], tally, change, cancellationToken);
            await PutAllAsync(session, RegistryKinds.Parts, document.Parts ?? [], tally, change, cancellationToken);
            await PutAllAsync(session, RegistryKinds.StockPoints, document.StockPoints ?? [], tally, change, cancellationToken);
            if (document.PlanTerms is { } terms)
            {
                tally.Count(await PlanTermsWriter.PutAsync(session, terms, cancellationToken));
            }

            await FinishAsync(session, tally, cancellationToken);
            return (new RegistryOutcome(tally.Created, tally.Changed, tally.Unchanged), problems);
        },
        cancellationToken);

    private static async Task<KnownCodes> KnownAsync(WriteSession session, object resource, CancellationToken cancellationToken)
    {
        var known = new KnownCodes();
        foreach ((string kind, string code) in KnownCodes.ReferredTo(resource))
        {
            if (await RegistryWriteQueries.ExistsAsync(session, kind, code, cancellationToken))
            {
                known.Add(kind, code);
            }
        }

        return known;
    }

    private static async Task PutAllAsync<T>(
        WriteSession session, RegistryKind<T> kind, IReadOnlyList<T> resources, Tally tally, RuleChange change, CancellationToken cancellationToken)
    {
        foreach (T resource in resources)
        {
            await PutAsync(session, kind, resource, tally, change, cancellationToken);
        }
    }

    // A document that brings a rule's earlier versions along says itself what held when.
    private static async Task PutRulesAsync(
        WriteSession session, RegistryDocument document, Tally tally, RuleChange change, CancellationToken cancellationToken)
    {
        ILookup<string, RuleVersionResource> versions = (document.RuleVersions ?? []).ToLookup(version => Codes.Key(version.Rule.Rule));
        foreach (RuleResource rule in document.Rules)
        {
            RuleVersionResource[] earlier = [.. versions[Codes.Key(rule.Rule)]];
            StoredBody? stored = await RegistryWriteQueries.FindAsync(session, "rule", rule.Rule, cancellationToken);
            bool replaces = earlier.Length > 0 && stored?.Body != JsonSerializer.Serialize(rule, Json.Options);
            await PutAsync(session, RegistryKinds.Rules, rule, tally, change with { Always = replaces }, cancellationToken);
            stored ??= await RegistryWriteQueries.FindAsync(session, "rule", rule.Rule, cancellationToken);
            tally.Rules |= await RuleChanges.AddAsync(session, stored!.Id, earlier, cancellationToken) > 0;
        }
    }

    private static async Task PutAsync<T>(
        WriteSession session, RegistryKind<T> kind, T resource, Tally tally, RuleChange change, CancellationToken cancellationToken)
    {
        string code = kind.Code(resource);
        string body = JsonSerializer.Serialize(resource, Json.Options);
        StoredBody? stored = await RegistryWriteQueries.FindAsync(session, kind.Name, code, cancellationToken);
        var row = new RegistryRow(
            stored?.Id, code, Codes.Key(code), body, Codes.KeyOf(kind.Parent(resource)), Codes.KeyOf(kind.Model(resource)), (resource as RuleResource)?.Scope);
        if (stored is null)
        {
            tally.Created++;
            tally.Say(kind.Name, code, "new");
            await RegistryWriteQueries.InsertAsync(session, kind.Name, row, cancellationToken);
        }
        else if (stored.Body == body && !(change.Always && resource is RuleResource))
        {
            tally.Unchanged++;
        }
        else
        {
            tally.Changed++;
            if (resource is RuleResource rule)
            {
                await RuleChanges.KeepAsync(session, stored, rule, change, cancellationToken);
                tally.Rules = true;
            }

            tally.Note(kind.Name, stored.Id);
            tally.Say(kind.Name, code, ChangedFields.Words(stored.Body, body));
            await RegistryWriteQueries.UpdateAsync(session, kind.Name, row, cancellationToken);
        }

        tally.Rules |= kind.Name == RegistryKinds.Rules.Name && stored?.Body != body;
    }

    private async Task FinishAsync(WriteSession session, Tally tally, CancellationToken cancellationToken)
    {
        AuditNote.Current?.Saying(tally.Words);
        if (tally.Created + tally.Changed == 0 && tally.Change.IsEmpty)
        {
            return;
        }

        await RegistryWriteQueries.GrowVersionAsync(session, cancellationToken);
        if (tally.Change.IsEmpty)
        {
            return;
        }

        RegistrySnapshot? after = null;
        foreach (IRegistryWatcher watcher in watchers)
        {
            after ??= await RegistryQueries.LoadAsync(session, cancellationToken);
            await watcher.ChangedAsync(tally.Change, after, session, cancellationToken);
        }
    }

    private sealed class Tally
    {
        private const int MostWords = 20;
        private readonly HashSet<int> _sites = [];
        private readonly HashSet<int> _models = [];
        private readonly HashSet<int> _units = [];
        private readonly List<string> _words = [];

        public bool Rules { get; set; }

        public int Created { get; set; }

        public int Changed { get; set; }

        public int Unchanged { get; set; }

        public void Count(bool? isNew)
        {
            (Created, Changed, Unchanged) = isNew switch
            {
                true => (Created + 1, Changed, Unchanged),
                false => (Created, Changed + 1, Unchanged),
                null => (Created, Changed, Unchanged + 1),
            };
        }

        /// <summary>What was done, for the audit.</summary>
        public string Words => string.Join("; ", _words.Prepend(FormattableString.Invariant($"{Created} new, {Changed} changed, {Unchanged} as before")));

        public RegistryChange Change => new(_sites, _models, _units, Rules);

        public void Say(string kind, string code, string what)
        {
            if (_words.Count < MostWords)
            {
                _words.Add($"{kind} {code}: {what}");
            }
        }

        public void Note(string kind, int id)
        {
            if (kind == RegistryKinds.Sites.Name)
            {
                _sites.Add(id);
            }
            else if (kind == RegistryKinds.Models.Name)
            {
                _models.Add(id);
            }
            else if (kind == RegistryKinds.Units.Name)
            {
                _units.Add(id);
            }
        }
    }
}
