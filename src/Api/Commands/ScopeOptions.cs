using System.CommandLine;
using Washwear.Api.Accounts;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;

namespace Washwear.Api.Commands;

/// <summary>--operator, --site and --unit: which part of the fleet a key or a person sees.</summary>
internal static class ScopeOptions
{
    private static readonly Option<string[]> Operators = new("--operator") { Description = "Sees this operator only; may be given again." };
    private static readonly Option<string[]> Sites = new("--site") { Description = "Sees this site only; may be given again." };
    private static readonly Option<string[]> Units = new("--unit") { Description = "Sees this unit only, by its asset tag; may be given again." };

    public static void AddTo(Command command)
    {
        command.Add(Operators);
        command.Add(Sites);
        command.Add(Units);
    }

    public static Scope Of(ParseResult asked)
    {
        (ScopeKind Kind, string[] Codes)[] given =
        [
            .. new[] { (Kind: ScopeKind.Operators, Option: Operators), (Kind: ScopeKind.Sites, Option: Sites), (Kind: ScopeKind.Units, Option: Units) }
                .Select(one => (one.Kind, asked.GetValue(one.Option) ?? [])).Where(one => one.Item2.Length > 0),
        ];
        return given.Length switch
        {
            0 => Scope.Everything,
            1 => Scope.Of(given[0].Kind, given[0].Codes)
                ?? throw new CommandException($"A scope has 1 to {Scope.MostCodes} codes of 1 to {Codes.MaxLength} printable characters."),
            _ => throw new CommandException("Give --operator, --site or --unit, not two of them."),
        };
    }

    /// <summary>Holds the codes of a scope against the registry: one that is not there would show nothing, and nobody would be told.</summary>
    /// <exception cref="CommandException">A code is not known, although others of its kind are.</exception>
    public static async Task CheckAsync(Scope scope, WebApplication app, CancellationToken cancellationToken)
    {
        RegistrySnapshot registry = await app.Services.GetRequiredService<RegistryCache>().CurrentAsync(cancellationToken);
        if (Grant.Unknown(scope, registry) is not { } unknown)
        {
            return;
        }

        // An installation that is being set up has keys before it has a registry.
        if (Grant.CodesOf(scope.Kind, registry).Count > 0)
        {
            throw new CommandException($"{unknown.Message} {unknown.Mend}");
        }

        Console.Error.WriteLine(
            $"Mind: no {Json.Name(scope.Kind.ToString())} are registered yet. Until {string.Join(", ", scope.Codes)} {(scope.Codes.Count == 1 ? "is" : "are")} registered, nothing is seen with this.");
    }
}
