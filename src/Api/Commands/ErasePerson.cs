using System.CommandLine;
using Washwear.Api.Audit;
using Washwear.Api.Erasure;

namespace Washwear.Api.Commands;

/// <summary>erase-person: a pseudonym in the place of a person's names.</summary>
internal static class ErasePerson
{
    private static readonly Argument<string[]> Names = new("name")
    {
        Description = "All names of one person: the full name as records have it, the name at sign-in, names of keys.",
        Arity = ArgumentArity.OneOrMore,
    };

    public static Command Create()
    {
        var command = new Command("erase-person", "Put a pseudonym in the place of a person's names, and delete the photos of that person's visits; cannot be undone.") { Names };
        command.SetAction(RunAsync);
        return command;
    }

    private static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        string[] names = asked.GetValue(Names)!;
        if (Erasures.WhyNot(names) is { } why)
        {
            throw new CommandException(why);
        }

        await using WebApplication app = await Offline.OpenAsync(asked);
        return await app.Services.GetRequiredService<AuditLog>().CommandAsync("person.erase", "erase-person", async () =>
        {
            ErasureReport report = await EraseAsync(app, names, cancellationToken)
                ?? throw new CommandException("None of these names stands where people are named; nothing was changed.");
            Console.Out.WriteLine($"The names are '{report.Pseudonym}' now:");
            foreach (ReplacedPlace place in report.Replaced)
            {
                Console.Out.WriteLine(FormattableString.Invariant($"  {place.Place,-24} {place.Rows} rows"));
            }

            Console.Out.WriteLine(FormattableString.Invariant($"{report.PhotosDeleted} photos deleted, {report.KeysRevoked} keys revoked."));
            Console.Out.WriteLine("Backups, files of logs and what was exported before still hold the names: see docs/personal-data.md.");
            return 0;
        });
    }

    private static async Task<ErasureReport?> EraseAsync(WebApplication app, string[] names, CancellationToken cancellationToken)
    {
        try
        {
            return await app.Services.GetRequiredService<Erasures>().EraseAsync(names, cancellationToken);
        }
        catch (SeveralPeopleException several)
        {
            throw new CommandException(several.Message);
        }
    }
}
