using System.CommandLine;
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

    private static readonly Option<string[]> Operators = new("--operator") { Description = "It sees this operator only; may be given again." };
    private static readonly Option<string[]> Sites = new("--site") { Description = "It sees this site only; may be given again." };
    private static readonly Option<string[]> Units = new("--unit") { Description = "It sees this unit only, by its asset tag; may be given again." };

    public static Command Create()
    {
        var add = new Command("add", "Make a key and print it once.") { Name, Can, Operators, Sites, Units };
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

        Scope scope = ScopeOf(asked);
        if (!AbilityRules.Fit(abilities, scope))
        {
            throw new CommandException(AbilityRules.WholeFleetOnly);
        }

        await using WebApplication app = await Offline.OpenOrCreateAsync(asked);
        string? key = await app.Services.GetRequiredService<Keys>().AddAsync(name, abilities, scope, cancellationToken);
        Console.Out.WriteLine(key ?? throw new CommandException($"There is, or was, a key named '{name}' already. Choose another name."));
        return 0;
    }

    private static Scope ScopeOf(ParseResult asked)
    {
        (ScopeKind Kind, string[] Codes)[] given =
        [
            .. new[] { (ScopeKind.Operators, Operators), (ScopeKind.Sites, Sites), (ScopeKind.Units, Units) }
                .Select(one => (one.Item1, asked.GetValue(one.Item2) ?? [])).Where(one => one.Item2.Length > 0),
        ];
        return given.Length switch
        {
            0 => Scope.Everything,
            1 => Scope.Of(given[0].Kind, given[0].Codes) ?? throw new CommandException($"A scope has 1 to {Scope.MostCodes} codes of 1 to {Codes.MaxLength} printable characters."),
            _ => throw new CommandException("Give --operator, --site or --unit, not two of them."),
        };
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
        return await app.Services.GetRequiredService<Keys>().RevokeAsync(asked.GetValue(Name)!, cancellationToken)
            ? 0
            : throw new CommandException($"There is no good key named '{asked.GetValue(Name)}'; 'keys list' shows what there is.");
    }
}
