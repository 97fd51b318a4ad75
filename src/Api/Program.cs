using System.CommandLine;
using Washwear.Api.Accounts;
using Washwear.Api.Alerts;
using Washwear.Api.Approvals;
using Washwear.Api.Audit;
using Washwear.Api.Board;
using Washwear.Api.Cleaning;
using Washwear.Api.Commands;
using Washwear.Api.Erasure;
using Washwear.Api.Failures;
using Washwear.Api.Help;
using Washwear.Api.Http;
using Washwear.Api.Import;
using Washwear.Api.Ingest;
using Washwear.Api.Links;
using Washwear.Api.Memories;
using Washwear.Api.Mqtt;
using Washwear.Api.Operation;
using Washwear.Api.Operators;
using Washwear.Api.PartLife;
using Washwear.Api.Planning;
using Washwear.Api.Registry;
using Washwear.Api.Repairs;
using Washwear.Api.Search;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Api.Sites;
using Washwear.Api.Storage;
using Washwear.Api.Timeline;
using Washwear.Api.Today;
using Washwear.Api.Units;
using Washwear.Api.Upkeep;
using Washwear.Api.Visits;
using Washwear.Api.VisitSheets;
using Washwear.Api.Webhooks;
using Washwear.Dashboard.Shell;

namespace Washwear.Api;

/// <summary>The table of contents of the running program.</summary>
public sealed class Program
{
    private Program()
    {
    }

    /// <summary>Runs the command that was given; none: serve.</summary>
    /// <param name="args">The command and its options.</param>
    /// <returns>0: done; 1: it failed; 2: it was asked for wrongly.</returns>
    public static Task<int> Main(string[] args) => CommandLine.RunAsync(args, new RootCommand("Washwear keeps self-washing ovens clean.")
    {
        Serve.Create(),
        Migrate.Create(),
        Commands.Demo.Create(),
        Transfer.CreateImport(),
        Transfer.CreateExport(),
        UpkeepCommands.CreateRebuild(),
        UpkeepCommands.CreateBackup(),
        Restore.Create(),
        RestoreDrillCommand.Create(),
        Prune.Create(),
        UpkeepCommands.CreateCheck(),
        UpkeepCommands.CreateSalvage(),
        KeyCommands.Create(),
        PeopleCommands.Create(),
        ErasePerson.Create(),
        MqttCheck.Create(),
        WriteOpenApi.Create(),
        WriteSettings.Create(),
    });

    /// <summary>Puts the program together; nothing is opened, written or listened on yet.</summary>
    /// <param name="settings">The settings.</param>
    /// <param name="clock">The clock; null: the one that the settings ask for.</param>
    public static WebApplication Build(Settings settings, TimeProvider? clock = null)
    {
        WebApplicationBuilder builder = WebServer.CreateBuilder(settings);

        // Storage and clock
        builder.Services.AddSingleton(settings);
        builder.Services.AddSingleton(clock ?? settings.Clock);
        builder.Services.AddSingleton<Database>();
        builder.Services.AddSingleton<Renewals>();
        builder.Services.AddHostedService<KeepingWorker>();
        builder.Services.AddHostedService<IngestDrain>();

        // Who may call, and in which form answers go out
        builder.Services.AddSecurity(settings);
        builder.Services.AddAudit();
        builder.Services.AddErasure();
        builder.Services.AddRazorComponents();
        builder.Services.AddContract();
        builder.Services.ConfigureHttpJsonOptions(options => Json.Configure(options.SerializerOptions));

        builder.Services.AddCompression();

        // What it tells of itself
        builder.Services.AddTelemetry(settings);
        builder.Services.AddHealth();
        builder.Services.AddRateLimits(settings);

        // Features
        builder.Services.AddRegistry();
        builder.Services.AddIngest();
        builder.Services.AddImport();
        builder.Services.AddSingleton<Pages>();
        builder.Services.AddToday();
        builder.Services.AddSearch();
        builder.Services.AddCleaning();
        builder.Services.AddSites();
        builder.Services.AddOperators();
        builder.Services.AddTimeline();
        builder.Services.AddEarlySigns();
        builder.Services.AddPartLife();
        builder.Services.AddFailures();
        builder.Services.AddUnits();
        builder.Services.AddVisits();
        builder.Services.AddApprovals();
        builder.Services.AddRepairs();
        builder.Services.AddVisitSheets();
        builder.Services.AddPlanning();
        builder.Services.AddAlerts();
        builder.Services.AddWebhooks();
        builder.Services.AddMqtt();
        builder.Services.AddLinks();
        builder.Services.AddUpkeep();

        // Pipeline: from the outside in
        WebApplication app = builder.Build();
        app.UseTrustedProxies(settings);
        app.UseSecurityHeaders();
        app.UseRequestLog();
        app.UseMiddleware<RequestErrors>();
        app.UseStatusCodePages(RequestErrors.DescribeStatusAsync);
        app.UseHead();
        app.UseCompression();
        app.UseRouting();
        app.UseOpenHealth();
        app.UseAuthentication();
        app.UseRateLimits();
        app.UseMiddleware<AuditedRequests>();
        app.UseAuthorization();
        app.UseScopes();
        app.UseReaderPreferences();
        app.UseSameOrigin();
        app.UseAccept();
        app.UseFormTokens();
        app.UseReference();

        // Maps
        app.MapHealth();
        app.MapMetrics(settings);
        app.MapSignIn();
        app.MapAudit();
        app.MapErasure();
        app.MapContract();
        app.MapDashboardAssets();
        app.MapRegistry();
        app.MapIngest();
        app.MapImport();
        app.MapToday();
        app.MapSearch();
        app.MapCleaning();
        app.MapSites();
        app.MapOperators();
        app.MapTimeline();
        app.MapEarlySigns();
        app.MapPartLife();
        app.MapFailures();
        app.MapUnits();
        app.MapVisits();
        app.MapApprovals();
        app.MapRepairs();
        app.MapVisitSheets();
        app.MapPlanning();
        app.MapVisitPlanPages();
        app.MapPlanningPages();
        app.MapAlerts();
        app.MapWebhooks();
        app.MapLinks();
        app.MapBoard();
        app.MapHelp();
        app.MapUpkeep();
        app.MapAccounts();
        return app;
    }
}
