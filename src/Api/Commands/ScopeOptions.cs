using System.CommandLine;
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
}
