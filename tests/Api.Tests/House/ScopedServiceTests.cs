using System.Reflection;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security.Scoped;
using Washwear.Api.Storage;

namespace Washwear.Api.Tests.House;

/// <summary>Whoever reads the database for a caller reads it through the caller's scope.</summary>
public sealed class ScopedServiceTests
{
    // Services that see everything whoever asks: what they do belongs to no operator, or they check the scope themselves.
    private static readonly Dictionary<string, string> SeeEverything = new(StringComparer.Ordinal)
    {
        ["Keys"] = "who may call at all",
        ["KeyHandler"] = "who may call at all",
        ["People"] = "administer: whole fleet",
        ["PersonLinks"] = "administer: whole fleet",
        ["Sessions"] = "who may call at all",
        ["LinkHandler"] = "who may call at all",
        ["ViewLinks"] = "checks the caller's scope",
        ["Erasures"] = "administer: whole fleet",
        ["AuditLog"] = "administer: whole fleet",
        ["AuditQueries"] = "administer: whole fleet",
        ["OperationQueries"] = "how the service fares: whole fleet",
        ["Lookout"] = "how the service fares: whole fleet",
        ["LookoutWorker"] = "how the service fares: whole fleet",
        ["ServiceGauges"] = "how the service fares: whole fleet",
        ["UpToDate"] = "prepares the database",
        ["UpkeepReports"] = "administer: whole fleet",
        ["UpkeepRunQueries"] = "administer: whole fleet",
        ["UpkeepRuns"] = "notes upkeep",
        ["UpkeepWorker"] = "does upkeep",
        ["BackupMaker"] = "copies the whole database",
        ["Pruning"] = "lets go of what is old",
        ["RetentionQueries"] = "lets go of what is old",
        ["ScopedServices"] = "makes the scopes",
        ["CookieKeyPlace"] = "keys of cookies",
        ["IngestService"] = "bound by SenderBounds",
        ["RequestKeyQueries"] = "answers by the caller's own key",
        ["KeyedRequests"] = "answers by the caller's own key",
        ["RequestKeyWorker"] = "forgets old answers",
        ["ProjectionWatcher"] = "derives anew",
        ["RegistryWriter"] = "manage: whole fleet",
        ["PlanTermsWriter"] = "manage: whole fleet",
        ["WebhookQueries"] = "manage: whole fleet",
        ["MessageQueries"] = "manage: whole fleet",
        ["OutboxQueries"] = "sends webhooks",
        ["WebhookSender"] = "sends webhooks",
        ["WebhookWorker"] = "sends webhooks",
        ["MessageIntake"] = "messages of the installation's own broker",
        ["MqttWorker"] = "messages of the installation's own broker",
        ["AlertChecks"] = "checks for alerts",
        ["AlertWorker"] = "checks for alerts",
        ["KeptForecasts"] = "keeps forecasts",
        ["ForecastWorker"] = "keeps forecasts",
        ["ImportProgressQueries"] = "imports: whole fleet",
        ["MappingQueries"] = "imports: whole fleet",
        ["SheetReader"] = "imports: whole fleet",
        ["SheetImporter"] = "imports: whole fleet",
        ["ImportSheetQueries"] = "imports: whole fleet",
        ["ImportFiles"] = "imports: whole fleet",
        ["ImportReports"] = "imports: whole fleet",
        ["ImportRuns"] = "imports: whole fleet",
    };

    [Fact]
    public void Every_service_that_reaches_the_database_has_an_instance_in_each_scope_or_a_reason_not_to()
    {
        Type[] services = [.. typeof(Database).Assembly.GetTypes().Where(type => type is { IsClass: true, IsAbstract: false } && Reaches(type, []))];
        using var host = Program.Build(Settings.Load(new Dictionary<string, string>()));
        HashSet<Type> scoped = host.Services.GetRequiredService<PerScopeTypes>().Types;
        Type[] registered = [.. services.Where(type => host.Services.GetRequiredService<IServiceProviderIsService>().IsService(type))];
        Assert.True(registered.Length > 50, $"only {registered.Length} services reach the database");
        string[] without = [.. registered.Where(type => !scoped.Contains(type) && !SeeEverything.ContainsKey(type.Name)).Select(type => type.Name)];
        Assert.True(
            without.Length == 0,
            "Register with AddPerScope, or give a reason here: " + string.Join(", ", without));

        string[] excused = [.. scoped.Where(type => SeeEverything.ContainsKey(type.Name)).Select(type => type.Name)];
        Assert.True(excused.Length == 0, "In each scope and excused: " + string.Join(", ", excused));
    }

    [Fact]
    public void No_service_of_a_scope_takes_one_that_reads_everything_but_for_those_that_write_by_rules_of_their_own()
    {
        using var host = Program.Build(Settings.Load(new Dictionary<string, string>()));
        HashSet<Type> scoped = host.Services.GetRequiredService<PerScopeTypes>().Types;
        string[] wrong =
        [
            .. from type in scoped.Where(type => type != typeof(Database))
               from needed in Needs(type)
               where !scoped.Contains(needed) && Reaches(needed, []) && needed.Name != "IngestService"
               select $"{type.Name} takes {needed.Name}",
        ];
        Assert.True(wrong.Length == 0, string.Join('\n', wrong));
    }

    private static bool Reaches(Type type, HashSet<Type> seen) =>
        type == typeof(Database) || (type.Assembly == typeof(Database).Assembly && seen.Add(type) && Needs(type).Any(needed => Reaches(needed, seen)));

    private static IEnumerable<Type> Needs(Type type) =>
        type.GetConstructors(BindingFlags.Public | BindingFlags.Instance).SelectMany(made => made.GetParameters()).Select(parameter => parameter.ParameterType);
}
