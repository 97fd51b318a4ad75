using System.CommandLine;
using Washwear.Api.Audit;
using Washwear.Api.Registry;
using Washwear.Api.Security;

namespace Washwear.Api.Commands;

/// <summary>keys: makes, lists and revokes keys.</summary>
internal static class KeyCommands
{
    private static readonly Argument<string> Name = new("name") { Description = "Name of the key: the source of the records that it sends." };

    private static readonly Option<string> Can = new("--can")
    {
        Description = "What it may do: read, ingest, work, plan, manage, administer, separated by commas.",
        DefaultValueFactory = _ => "read",
    };

    public static Command Create()
    {
        var add = new Command("add", "Make a key and print it once.") { Name, Can };
        ScopeOptions.AddTo(add);
        add.SetAction(AddAsync);
        var list = new Command("list", "List the keys.");
        list.SetAction(ListAsync);
        var revoke = new Command("revoke", "Revoke a key; it stops working at once.") { Name };
        revoke.SetAction(RevokeAsync);
        return new Command("keys", "Make, list and revoke keys.") { add, list, revoke };
    }

    private static async Task<int> AddAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        if (!AbilityRules.TryParse(asked.GetValue(Can)!, out Abilities abilities))
        {
            throw new CommandException("--can takes read, ingest, work, plan, manage and administer, separated by commas.");
        }

        string name = asked.GetValue(Name)!;
        if (!Codes.IsValid(name))
        {
            throw new CommandException("A key's name has 1 to 64 printable characters and no space at either end.");
        }

        Scope scope = ScopeOptions.Of(asked);
        if (!AbilityRules.Fit(abilities, scope))
        {
            throw new CommandException(AbilityRules.WholeFleetOnly);
        }

        await using WebApplication app = await Offline.OpenOrCreateAsync(asked);
        return await app.Services.GetRequiredService<AuditLog>().CommandAsync("key.make", "keys add", async () =>
        {
            AuditNote.Current?.On("key", null, name);
            await ScopeOptions.CheckAsync(scope, app, cancellationToken);
            AuditNote.Current?.Saying($"{string.Join(' ', AbilityRules.Words(abilities))}; {scope.InWords()}");
            string? key = await app.Services.GetRequiredService<Keys>().AddAsync(name, abilities, scope, cancellationToken);
            Console.Out.WriteLine(key ?? throw new CommandException($"There is, or was, a key named '{name}' already. Choose another name."));
            return 0;
        });
    }

    private static async Task<int> ListAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        await using WebApplication app = await Offline.OpenAsync(asked);
        foreach (ApiKey key in await app.Services.GetRequiredService<Keys>().ListAsync(cancellationToken))
        {
            string state = key.RevokedAt is { } revoked ? FormattableString.Invariant($"revoked {revoked:u}") : "good";
            Console.Out.WriteLine(FormattableString.Invariant(
                $"{key.Name}  {string.Join(',', AbilityRules.Words(key.Abilities))}  {key.Scope.InWords()}  made {key.CreatedAt:u}  {state}"));
        }

        return 0;
    }

    private static async Task<int> RevokeAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        await using WebApplication app = await Offline.OpenAsync(asked);
        string name = asked.GetValue(Name)!;
        return await app.Services.GetRequiredService<AuditLog>().CommandAsync("key.revoke", "keys revoke", async () =>
        {
            AuditNote.Current?.On("key", null, name);
            return await app.Services.GetRequiredService<Keys>().RevokeAsync(name, cancellationToken)
                ? 0
                : throw new CommandException($"There is no good key named '{name}'; 'keys list' shows what there is.");
        });
    }
}
