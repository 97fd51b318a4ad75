using System.CommandLine;
using Washwear.Api.Ingest;
using Washwear.Api.Messages;
using Washwear.Api.Upkeep;

namespace Washwear.Api.Commands;

/// <summary>mqtt-check: whether a mapping can be used, and what a message would become; nothing is taken in.</summary>
internal static class MqttCheck
{
    private static readonly Argument<FileInfo> Mapping = new("mapping") { Description = "The mapping file." };

    private static readonly Option<string?> Topic = new("--topic") { Description = "Topic of the messages to try." };

    private static readonly Option<FileInfo[]> Payload = new("--payload")
    {
        Description = "File of a payload to try; several are tried one after the other.",
        AllowMultipleArgumentsPerToken = true,
    };

    private static readonly Option<bool> Retained = new("--retained") { Description = "Try them as messages that the broker had kept." };

    public static Command Create()
    {
        var command = new Command("mqtt-check", "Check a mapping of MQTT messages, and show what a message would become.") { Mapping, Topic, Payload, Retained };
        command.SetAction(RunAsync);
        return command;
    }

    private static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        IReadOnlyList<Subscription> subscriptions = await MappingLoader.LoadAsync(asked.GetValue(Mapping)!.FullName, cancellationToken);
        FileInfo[] files = asked.GetValue(Payload) ?? [];
        if (asked.GetValue(Topic) is not { } topic)
        {
            Tell(subscriptions);
            return files.Length == 0 ? 0 : throw new CommandException("A payload is tried on a topic: give --topic too.");
        }

        if (files.Length == 0)
        {
            throw new CommandException("Give the file of a payload with --payload.");
        }

        return await TryAsync(CommandLine.SettingsOf(asked), subscriptions, topic, files, asked.GetValue(Retained), cancellationToken);
    }

    private static void Tell(IReadOnlyList<Subscription> subscriptions)
    {
        foreach (Subscription subscription in subscriptions)
        {
            string types = subscription.Resource.Records is { } records ? ": " + string.Join(", ", records.Select(record => record.Type + (record.At is null && !RecordWords.NamesItsInstant(record.Type) ? " (at: when it arrives)" : ""))) : "";
            Console.Out.WriteLine($"{subscription.Pattern.Filter} as {Http.Json.Name(subscription.Resource.Payload.ToString())}{types}; source {subscription.Source}");
        }

        Console.Out.WriteLine("The mapping can be used.");
    }

    private static async Task<int> TryAsync(
        Settings settings, IReadOnlyList<Subscription> subscriptions, string topic, FileInfo[] files, bool retained, CancellationToken cancellationToken)
    {
        DirectoryInfo? scratch = null;
        if (settings.Engine == "sqlite" && !File.Exists(settings.Database))
        {
            scratch = Directory.CreateTempSubdirectory("washwear-mqtt-check-");
            settings = settings.With(("database", Path.Combine(scratch.FullName, "empty.db")));
            Console.Out.WriteLine("There is no database: no unit is known. Name one with --database.");
        }

        try
        {
            await using WebApplication app = Program.Build(settings.With(("log_level", "warning")));
            await app.Services.GetRequiredService<UpToDate>().BringAsync(cancellationToken);
            var reader = new MessageReader(subscriptions, settings.RowLimitBytes);
            DateTimeOffset now = app.Services.GetRequiredService<TimeProvider>().GetUtcNow();
            var messages = new List<Message>();
            foreach (FileInfo file in files)
            {
                messages.Add(new Message(topic, await File.ReadAllBytesAsync(file.FullName, cancellationToken), retained, now));
            }

            return Show(files, await app.Services.GetRequiredService<MessageIntake>().TryAsync(reader, messages));
        }
        finally
        {
            scratch?.Delete(recursive: true);
        }
    }

    private static int Show(FileInfo[] files, IReadOnlyList<TriedRow> rows)
    {
        for (int index = 0; index < files.Length; index++)
        {
            TriedRow[] own = [.. rows.Where(row => row.Message == index)];
            Console.Out.WriteLine($"{files[index].Name}: {(own.Length == 0 ? "no record" : "")}".TrimEnd());
            foreach (TriedRow row in own)
            {
                Console.Out.WriteLine(row.Record is { } record ? "  " + RecordJson.Write(record) : "  no record");
                Explain("would be refused", row.Problem is { } problem ? [problem] : []);
                Explain("doubted", row.Doubts);
            }
        }

        return rows.Any(row => row.Problem is not null) ? 1 : 0;
    }

    private static void Explain(string what, IReadOnlyList<RowProblem> problems)
    {
        foreach (RowProblem problem in problems)
        {
            Console.Out.WriteLine($"    {what}: {problem.Field ?? "row"}: {problem.Detail} {problem.Mend} ({problem.Rule})");
        }
    }
}
