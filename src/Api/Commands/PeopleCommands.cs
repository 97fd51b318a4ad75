using System.CommandLine;
using System.Globalization;
using Washwear.Api.Audit;
using Washwear.Api.Security;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Commands;

/// <summary>people: adds, lists, lets back in and disables people, for whoever has the machine.</summary>
internal static class PeopleCommands
{
    private const string MadeBy = "command line";

    private static readonly Argument<string> Login = new("login") { Description = "What the person signs in with: an e-mail address, or any word." };
    private static readonly Option<string?> Name = new("--name") { Description = "Name as pages show it. Default: the login." };

    private static readonly Option<string> Can = new("--can")
    {
        Description = "What the person may do: read, ingest, work, plan, manage, administer, separated by commas.",
        DefaultValueFactory = _ => "read",
    };

    public static Command Create()
    {
        var add = new Command("add", "Add a person and print a link, good once, to set a password.") { Login, Name, Can };
        ScopeOptions.AddTo(add);
        add.SetAction((asked, cancellationToken) => NotedAsync(asked, "add", AddAsync, cancellationToken));
        var list = new Command("list", "List the people.");
        list.SetAction(ListAsync);
        var reset = new Command("reset", "Print a link, good once, by which a person sets a new password.") { Login };
        reset.SetAction((asked, cancellationToken) => NotedAsync(asked, "reset", ResetAsync, cancellationToken));
        var disable = new Command("disable", "Disable a person, who is signed out everywhere within seconds.") { Login };
        disable.SetAction((asked, cancellationToken) => NotedAsync(asked, "disable", DisableAsync, cancellationToken));
        var release = new Command("release", "Forget which account of the company is this person's; the next one with the login is.") { Login };
        release.SetAction((asked, cancellationToken) => NotedAsync(asked, "release", ReleaseAsync, cancellationToken));
        return new Command("people", "Add, list, let back in and disable people.") { add, list, reset, disable, release };
    }

    private static async Task<int> NotedAsync(
        ParseResult asked, string command, Func<ParseResult, WebApplication, CancellationToken, Task<int>> work, CancellationToken cancellationToken)
    {
        await using WebApplication app = await (command == "add" ? Offline.OpenOrCreateAsync(asked) : Offline.OpenAsync(asked));
        return await app.Services.GetRequiredService<AuditLog>().CommandAsync(
            "person." + command, "people " + command, () => work(asked, app, cancellationToken));
    }

    private static async Task<int> AddAsync(ParseResult asked, WebApplication app, CancellationToken cancellationToken)
    {
        if (!AbilityRules.TryParse(asked.GetValue(Can)!, out Abilities abilities))
        {
            throw new CommandException("--can takes read, ingest, work, plan, manage and administer, separated by commas.");
        }

        string login = asked.GetValue(Login)!;
        Scope scope = ScopeOptions.Of(asked);
        await ScopeOptions.CheckAsync(scope, app, cancellationToken);
        try
        {
            Person person = await app.Services.GetRequiredService<People>().AddAsync(
                new NewPerson(login, asked.GetValue(Name) ?? login, abilities, scope), cancellationToken);
            AuditNote.Current?.On("person", person.Id.ToString(CultureInfo.InvariantCulture), person.Login);
            await PrintLinkAsync(app, person, cancellationToken);
            return 0;
        }
        catch (PersonRefusedException refused)
        {
            throw new CommandException($"{refused.Message} {refused.Mend}");
        }
    }

    private static async Task<int> ListAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        await using WebApplication app = await Offline.OpenAsync(asked);
        foreach (Person person in await app.Services.GetRequiredService<People>().ListAsync(null, null, cancellationToken))
        {
            string state = person switch
            {
                { DisabledAt: { } at } => FormattableString.Invariant($"disabled {at:u}"),
                { HasPassword: false } => "no password yet",
                _ => "may sign in",
            };
            Console.Out.WriteLine(FormattableString.Invariant(
                $"{person.Login}  {person.Name}  {string.Join(',', AbilityRules.Words(person.Abilities))}  {person.Scope.InWords()}  {state}"));
        }

        return 0;
    }

    private static async Task<int> ResetAsync(ParseResult asked, WebApplication app, CancellationToken cancellationToken)
    {
        string login = asked.GetValue(Login)!;
        Person person = await app.Services.GetRequiredService<People>().FindAsync(login, cancellationToken)
            ?? throw new CommandException($"Nobody has the login '{login}'; 'people list' shows who there is.");
        if (person.DisabledAt is not null)
        {
            throw new CommandException($"'{person.Login}' is disabled; an administrator lets people in again on the page /people.");
        }

        await PrintLinkAsync(app, person, cancellationToken);
        return 0;
    }

    private static async Task<int> DisableAsync(ParseResult asked, WebApplication app, CancellationToken cancellationToken)
    {
        return await app.Services.GetRequiredService<People>().DisableAsync(asked.GetValue(Login)!, cancellationToken)
            ? 0
            : throw new CommandException($"Nobody has the login '{asked.GetValue(Login)}'; 'people list' shows who there is.");
    }

    private static async Task<int> ReleaseAsync(ParseResult asked, WebApplication app, CancellationToken cancellationToken)
    {
        return await app.Services.GetRequiredService<People>().ReleaseAsync(asked.GetValue(Login)!, cancellationToken)
            ? 0
            : throw new CommandException($"Nobody has the login '{asked.GetValue(Login)}'; 'people list' shows who there is.");
    }

    private static async Task PrintLinkAsync(WebApplication app, Person person, CancellationToken cancellationToken)
    {
        (PersonLink link, string token) =
            await app.Services.GetRequiredService<PersonLinks>().ResetAsync(person, MadeBy, Abilities.All, cancellationToken);
        Console.Out.WriteLine(FormattableString.Invariant($"Good once, until {link.ExpiresAt:u}:"));
        Console.Out.WriteLine(app.Services.GetRequiredService<Settings>().PublicUrl + Urls.Join(token));
    }
}
