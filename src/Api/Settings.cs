using System.Globalization;
using Washwear.Api.Security.Company;
using Washwear.Api.Upkeep.Backups;
using static Washwear.Api.Setting;

namespace Washwear.Api;

/// <summary>What an installation can choose: the values in force. The one list of settings is in <c>Settings.All.cs</c>.</summary>
public sealed partial class Settings
{
    /// <summary>What the names of environment variables begin with.</summary>
    public const string EnvironmentPrefix = "WASHWEAR_";

    private const string Section = "washwear";
    private readonly Dictionary<string, string> _values;

    private Settings(Dictionary<string, string> values) => _values = values;

    /// <summary>Database engine: sqlite or sqlserver.</summary>
    public string Engine => _values["engine"];

    /// <summary>Connection string of SQL Server; empty: none.</summary>
    public string SqlServer => _values["sql_server"];

    /// <summary>Database file of the embedded engine.</summary>
    public string Database => _values["database"];

    /// <summary>First administrator's key; null: one is made.</summary>
    public string? AdminKey => Optional("admin_key");

    /// <summary>Addresses to listen on, separated by semicolons.</summary>
    public string Urls => _values["urls"];

    /// <summary>Address for printed links, without a slash at its end.</summary>
    public string PublicUrl => (Optional("public_url") ?? Urls.Split(';')[0]).TrimEnd('/');

    /// <summary>Address by which people reach the service, if one was given, without a slash at its end.</summary>
    public string? GivenPublicUrl => Optional("public_url")?.TrimEnd('/');

    /// <summary>IP addresses of trusted reverse proxies.</summary>
    public IReadOnlyList<string> TrustedProxies =>
        _values["trusted_proxies"].Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    /// <summary>Largest request body, bytes.</summary>
    public long RequestLimitBytes => Number("request_limit_mib") * 1024L * 1024L;

    /// <summary>Most that a compressed request body may expand to, bytes.</summary>
    public long ExpandedLimitBytes => Number("expanded_limit_mib") * 1024L * 1024L;

    /// <summary>Largest single record, bytes.</summary>
    public int RowLimitBytes => Number("row_limit_kib") * 1024;

    /// <summary>Most that records which were read and not yet written may hold in memory, bytes.</summary>
    public long IngestQueueBytes => Number("ingest_queue_mib") * 1024L * 1024L;

    /// <summary>Most requests with records at once.</summary>
    public int IngestQueueRequests => Number("ingest_queue_requests");

    /// <summary>How long the answer to a request with an Idempotency-Key is kept.</summary>
    public TimeSpan IdempotencyKeyLasts => TimeSpan.FromDays(Number("idempotency_key_days"));

    /// <summary>Rows a list gives when no limit is asked for.</summary>
    public int PageRows => Math.Min(Number("page_rows"), PageRowsMax);

    /// <summary>Most rows a list gives at once.</summary>
    public int PageRowsMax => Number("page_rows_max");

    /// <summary>How long to wait for a lock of another process, seconds.</summary>
    public int BusyTimeoutSeconds => Number("busy_timeout_seconds");

    /// <summary>Longest that one statement may take, seconds.</summary>
    public int CommandTimeoutSeconds => Number("command_timeout_seconds");

    /// <summary>How many scopes keep their figures in memory.</summary>
    public int ScopesKept => Number("scopes_kept");

    /// <summary>How long requests under way may take to end once the program is told to stop.</summary>
    public TimeSpan StopTakes => TimeSpan.FromSeconds(Number("stop_seconds"));

    /// <summary>Whether a copy of an older database file is kept before it is brought up to date.</summary>
    public bool MigrationCopy => _values["migration_copy"] == "yes";

    /// <summary>Longest that a sign-in lasts.</summary>
    public TimeSpan SignInLasts => TimeSpan.FromDays(Number("sign_in_days"));

    /// <summary>Failed sign-ins from one address before it has to wait.</summary>
    public int FailedSignIns => Number("failed_sign_ins");

    /// <summary>Failed sign-ins with one login before it has to wait.</summary>
    public int FailedSignInsOfPerson => Number("failed_sign_ins_of_person");

    /// <summary>How long a sign-in lasts without being used.</summary>
    public TimeSpan SignInIdle => TimeSpan.FromHours(Number("sign_in_idle_hours"));

    /// <summary>How long an invitation can be used.</summary>
    public TimeSpan InvitationLasts => TimeSpan.FromHours(Number("invitation_hours"));

    /// <summary>How long failed sign-ins are counted and the wait lasts.</summary>
    public TimeSpan FailedSignInWindow => TimeSpan.FromMinutes(Number("failed_sign_in_minutes"));

    /// <summary>Hours past the deadline after which a unit that is overdue becomes an alert.</summary>
    public int AlertOverdueHours => Number("alert_overdue_hours");

    /// <summary>Folder for nightly backups; null: none are made.</summary>
    public string? BackupFolder => Optional("backup_folder");

    /// <summary>Hour of the day at which the nightly backup is made.</summary>
    public int BackupHour => Number("backup_hour");

    /// <summary>IANA name of the time zone of backups.</summary>
    public string BackupTimeZone => _values["backup_time_zone"];

    /// <summary>Whether the way back is tried every 30 days.</summary>
    public bool RestoreDrill => _values["restore_drill"] == "yes";

    /// <summary>How many backups are kept.</summary>
    internal BackupKeeping BackupKeeping => new(Number("backup_keep_daily"), Number("backup_keep_weekly"), Number("backup_keep_monthly"));

    /// <summary>How long entries of the audit are kept; null: for ever.</summary>
    public TimeSpan? AuditKeep => Number("audit_keep_days") is > 0 and var days ? TimeSpan.FromDays(days) : null;

    /// <summary>Time between two checks for alerts; zero: no checks.</summary>
    public TimeSpan AlertCheckInterval => TimeSpan.FromMinutes(Number("alert_check_minutes"));

    /// <summary>Time between two looks for webhook messages that are due; zero: none.</summary>
    public TimeSpan WebhookPollInterval => TimeSpan.FromSeconds(Number("webhook_poll_seconds"));

    /// <summary>How long a receiver of webhooks may take to answer.</summary>
    public TimeSpan WebhookTimeout => TimeSpan.FromSeconds(Number("webhook_timeout_seconds"));

    /// <summary>How long webhook messages that were sent are kept.</summary>
    public TimeSpan WebhookKeep => TimeSpan.FromDays(Number("webhook_keep_days"));

    /// <summary>For how many days something is kept; 0: for ever.</summary>
    /// <param name="setting">Name of the setting.</param>
    internal int KeepDays(string setting) => Number(setting);

    /// <summary>Whether webhooks may call internal addresses, and by http.</summary>
    public bool WebhookInternalAddresses => _values["webhook_internal_addresses"] == "yes";

    /// <summary>How to reach the MQTT broker; null: no messages are taken in.</summary>
    public Mqtt.MqttOptions? Mqtt => Optional("mqtt_host") is { } host
        ? new(
            host, Number("mqtt_port"), _values["mqtt_tls"] == "yes", Optional("mqtt_ca_file"), Optional("mqtt_user"), Optional("mqtt_password"),
            _values["mqtt_client_id"], _values["mqtt_version"] == "5", TimeSpan.FromHours(Number("mqtt_session_hours")), Number("mqtt_in_flight"),
            Optional("mqtt_mapping"))
        : null;

    /// <summary>Largest spreadsheet, bytes.</summary>
    public long ImportLimitBytes => Number("import_limit_mib") * 1024L * 1024L;

    /// <summary>Most that a workbook may unpack to, bytes.</summary>
    public long ImportUnpackedBytes => Number("import_unpacked_mib") * 1024L * 1024L;

    /// <summary>Most rows of one spreadsheet.</summary>
    public int ImportRowsMax => Number("import_rows_max");

    /// <summary>How long an upload is kept.</summary>
    public TimeSpan ImportKeep => TimeSpan.FromHours(Number("import_keep_hours"));

    /// <summary>Most uploads that one person may have at once.</summary>
    public int ImportUploadsMax => Number("import_uploads_max");

    /// <summary>Whether the service measures itself.</summary>
    public bool MeasuresItself => _values["metrics"] == "yes";

    /// <summary>Whether metrics are read without a key.</summary>
    public bool MetricsOpen => _values["metrics_open"] == "yes";

    /// <summary>Collector of metrics and traces; null: none.</summary>
    /// <exception cref="SettingException">It is no address.</exception>
    public Uri? OtlpEndpoint => Optional("otlp_endpoint") is not { } given
        ? null
        : Uri.TryCreate(given, UriKind.Absolute, out Uri? address) && address.Scheme is "http" or "https"
            ? address
            : throw new SettingException("Setting otlp_endpoint must be an address that begins with http:// or https://.");

    /// <summary>Whether the collector is spoken to by gRPC.</summary>
    public bool OtlpIsGrpc => _values["otlp_protocol"] == "grpc";

    /// <summary>Share of requests that are traced, 0 to 1.</summary>
    public double TraceShare => Number("trace_per_mille") / 1000.0;

    /// <summary>Free disk below which it is told, bytes.</summary>
    public long DiskFreeBytes => Number("disk_free_mib") * 1024L * 1024L;

    /// <summary>Age of the newest backup above which it is told; zero: never.</summary>
    public TimeSpan BackupAge => TimeSpan.FromHours(Number("backup_age_hours"));

    /// <summary>Most connections at once.</summary>
    public int ConnectionsMax => Number("connections_max");

    /// <summary>Requests a second of one known caller; 0: any number.</summary>
    public int CallerRequestsPerSecond => Number("caller_requests_per_second");

    /// <summary>Requests a second of one address without a key; 0: any number.</summary>
    public int StrangerRequestsPerSecond => Number("stranger_requests_per_second");

    /// <summary>Sign-ins a minute of one address; 0: any number.</summary>
    public int SignInsPerMinute => Number("sign_ins_per_minute");

    /// <summary>Costly questions answered at once, at least 1.</summary>
    public int CostlyAtOnce => Number("costly_at_once") is > 0 and var given ? given : Math.Max(2, Environment.ProcessorCount);

    /// <summary>Units from which on answers may lag.</summary>
    public int LagFromUnits => Number("lag_from_units");

    /// <summary>How far answers may lag, seconds; 0: not at all.</summary>
    public int LagSecondsMax => Number("lag_seconds_max");

    /// <summary>Costly questions that wait.</summary>
    public int CostlyWaiting => Number("costly_waiting");

    /// <summary>File that is logged to; null: none.</summary>
    public string? LogFile => Optional("log_file");

    /// <summary>Size of a log file, bytes.</summary>
    public long LogFileBytes => Number("log_file_mib") * 1024L * 1024L;

    /// <summary>Log files that are kept.</summary>
    public int LogFileCount => Number("log_file_count");

    /// <summary>Whether events are logged as JSON.</summary>
    public bool LogIsJson => _values["log_format"] == "json";

    /// <summary>Whether everything in the database is invented.</summary>
    public bool InventedData => _values["invented_data"] == "yes";

    /// <summary>The clock that the program goes by: the machine's, or one set to where the invented data end.</summary>
    /// <exception cref="SettingException">A clock of its own is asked for where the data are not invented.</exception>
    public TimeProvider Clock => Optional("invented_now") is not { } start ? TimeProvider.System
        : InventedData ? new ShiftedClock(MomentOf(start))
        : throw new SettingException("Setting invented_now is for invented data only: leave it out, or set invented_data to yes.");

    /// <summary>Least serious event that is logged: debug, information, warning or error.</summary>
    public string LogLevel => _values["log_level"];

    /// <summary>Who vouches for people that sign in with the account of their company; null: nobody.</summary>
    /// <exception cref="SettingException">What was given cannot be taken.</exception>
    public CompanyOptions? Company => Optional("oidc_issuer") is not { } issuer
        ? null
        : new CompanyOptions(
            issuer, _values["oidc_client_id"], Optional("oidc_client_secret"), _values["oidc_scopes"].Split(' ', StringSplitOptions.RemoveEmptyEntries),
            _values["oidc_name"], _values["oidc_login_claim"]).Checked();

    /// <summary>Reads appsettings.json beside the program, then the environment, then what is handed in; the last one wins.</summary>
    /// <param name="given">Values by setting name, such as those of the command line.</param>
    /// <exception cref="SettingException">A value is not allowed, or a name is not known.</exception>
    public static Settings Load(IReadOnlyDictionary<string, string> given)
    {
        IConfigurationRoot file = new ConfigurationBuilder()
            .SetBasePath(AppContext.BaseDirectory)
            .AddJsonFile("appsettings.json", optional: true, reloadOnChange: false)
            .Build();
        IConfigurationRoot environment = new ConfigurationBuilder().AddEnvironmentVariables(EnvironmentPrefix).Build();
        RefuseUnknown([.. file.GetSection(Section).GetChildren().Select(child => child.Key), .. given.Keys]);
        return new Settings(All.ToDictionary(
            setting => setting.Name,
            setting => Check(
                setting,
                given.GetValueOrDefault(setting.Name) ?? environment[setting.Name] ?? file.GetSection(Section)[setting.Name]),
            StringComparer.Ordinal));
    }

    /// <summary>The same settings but for some values.</summary>
    /// <param name="changes">Name and value of each change.</param>
    /// <exception cref="SettingException">A value is not allowed.</exception>
    public Settings With(params (string Name, string Value)[] changes)
    {
        var values = new Dictionary<string, string>(_values, StringComparer.Ordinal);
        foreach ((string name, string value) in changes)
        {
            values[name] = Check(All.First(setting => setting.Name == name), value);
        }

        return new Settings(values);
    }

    private static string Check(Setting setting, string? value)
    {
        if (string.IsNullOrEmpty(value))
        {
            return setting.Default;
        }

        return setting.IsAllowed(value)
            ? value
            : throw new SettingException($"Setting {setting.Name} cannot be '{value}'; it must be {setting.Allowed}.");
    }

    private static void RefuseUnknown(IEnumerable<string> names)
    {
        string? unknown = names.FirstOrDefault(name => !All.Any(setting => Same(setting.Name, name)));
        if (unknown is not null)
        {
            throw new SettingException($"There is no setting '{unknown}'; there are {string.Join(", ", All.Select(setting => setting.Name))}.");
        }
    }

    private static bool Same(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);

    private string? Optional(string name) => _values[name] is { Length: > 0 } value ? value : null;

    private int Number(string name) => int.Parse(_values[name], CultureInfo.InvariantCulture);
}

/// <summary>A setting that cannot be taken; the message says which and what to do.</summary>
/// <param name="message">What is wrong.</param>
public sealed class SettingException(string message) : Exception(message);
