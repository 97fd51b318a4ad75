using System.Globalization;
using Washwear.Api.Security.Company;
using Washwear.Api.Upkeep.Backups;
using static Washwear.Api.Setting;

namespace Washwear.Api;

/// <summary>What an installation can choose: the one list of settings, and the values in force.</summary>
public sealed class Settings
{
    /// <summary>What the names of environment variables begin with.</summary>
    public const string EnvironmentPrefix = "WASHWEAR_";

    private const string Section = "washwear";
    private readonly Dictionary<string, string> _values;

    private Settings(Dictionary<string, string> values) => _values = values;

    /// <summary>Every setting there is.</summary>
    public static IReadOnlyList<Setting> All { get; } =
    [
        Choice("engine", "sqlite", ["sqlite", "sqlserver"], "Database engine: the embedded one, or SQL Server for several nodes on one database."),
        Text("database", "data/washwear.db", "Database file of the embedded engine, relative to the working directory; its folder also keeps the cookie keys."),
        Text("sql_server", "", "Connection string of SQL Server; the database must exist and its user may make tables in it."),
        Text("admin_key", "", "First administrator's key, taken when the database has no key yet; left out: one is made and printed once."),
        Text("urls", "http://127.0.0.1:5080", "Addresses to listen on, separated by semicolons; anything but loopback should sit behind TLS."),
        Text("public_url", "", "Address by which people reach the service, for links that are printed; left out: the first of urls."),
        Text("trusted_proxies", "", "IP addresses of reverse proxies, separated by commas, whose X-Forwarded-For and -Proto are believed."),
        Whole("request_limit_mib", 32, 1, 1024, "Largest request body, MiB."),
        Whole("expanded_limit_mib", 256, 1, 16384, "Most that a compressed request body may expand to, MiB."),
        Whole("row_limit_kib", 256, 1, 16384, "Largest single record, KiB; a longer one is refused and kept cut."),
        Whole("ingest_queue_mib", 64, 1, 65536, "Most memory that records which were read and not yet written may hold, over all requests, MiB, about."),
        Whole("ingest_queue_requests", 1000, 1, 100000, "Most requests with records that are taken in at once; those above are told to come again."),
        Whole("idempotency_key_days", 7, 1, 365, "How long the answer to a request with an Idempotency-Key is kept, days."),
        Whole("page_rows", 100, 1, 1000, "Rows a list gives when no limit is asked for."),
        Whole("page_rows_max", 1000, 1, 100000, "Most rows a list gives at once."),
        Whole("busy_timeout_seconds", 10, 1, 300, "How long to wait for another process to let go of the database, seconds."),
        Whole("command_timeout_seconds", 60, 1, 3600, "Longest that one statement may take, seconds."),
        Whole("lag_from_units", 1000, 1, 1000000000, "Units that a fleet must have, or the part of it that a reader sees, before any answer may lie behind the newest record; below that none does."),
        Whole("lag_seconds_max", 900, 0, 3600, "How far an answer that is dear to make may lie behind the newest record, seconds, while it is made anew; 0: not at all."),
        Whole("scopes_kept", 32, 1, 10000, "How many parts of the fleet (scopes of keys and people) keep their figures in memory; the others are read again."),
        Whole("stop_seconds", 30, 1, 600, "How long requests under way may take to end once the program is told to stop, seconds; a supervisor must wait longer than that."),
        Choice("migration_copy", "yes", ["no", "yes"], "Whether a copy of an older database file is kept beside it before it is brought up to date; the last two are kept."),
        Whole("sign_in_days", 30, 1, 365, "Longest that a sign-in lasts, days."),
        Whole("sign_in_idle_hours", 336, 1, 8760, "How long a sign-in lasts without being used, hours."),
        Whole("failed_sign_ins", 10, 1, 1000, "Failed sign-ins from one address before it has to wait."),
        Whole("failed_sign_ins_of_person", 10, 1, 1000, "Failed sign-ins with one login, wherever they come from, before it has to wait."),
        Whole("failed_sign_in_minutes", 10, 1, 1440, "How long failed sign-ins are counted and the wait lasts, minutes."),
        Whole("invitation_hours", 168, 1, 8760, "How long an invitation, or a link to set a new password, can be used, hours."),
        Whole("audit_keep_days", 1095, 0, 36500, "How long entries of the audit are kept, days; 0: for ever."),
        Text("oidc_issuer", "", "Issuer of OpenID Connect with whose accounts people sign in too, such as https://login.example.org; left out: none."),
        Text("oidc_client_id", "", "Name under which the issuer knows this service; its address there is public_url with /sign-in/company."),
        Text("oidc_client_secret", "", "Secret of this service at the issuer; taken from the environment or appsettings.json, never from the command line; left out: PKCE alone."),
        Text("oidc_scopes", "openid profile email", "What the issuer is asked for, separated by spaces; openid among it."),
        Text("oidc_name", "your company account", "What the sign-in page calls the account, after 'Sign in with'."),
        Choice("oidc_login_claim", "email", ["email", "preferred_username"], "Claim that must be a person's login when the account comes first; email counts only if email_verified is true."),
        Whole("alert_overdue_hours", 24, 0, 8760, "Hours past the deadline after which a unit that is overdue becomes an alert."),
        Whole("alert_check_minutes", 5, 0, 1440, "Minutes between two checks for alerts; 0: no checks."),
        Whole("webhook_poll_seconds", 2, 0, 3600, "Seconds between two looks for webhook messages that are due; 0: none are sent."),
        Whole("webhook_timeout_seconds", 20, 1, 30, "How long a receiver of webhooks may take to answer, seconds."),
        Text("backup_folder", "", "Folder for nightly backups of the embedded database, best on another disk; left out: none are made."),
        Whole("backup_hour", 2, 0, 23, "Hour of the day at which the nightly backup is made, 0 to 23; one that was missed is made as soon as the program runs."),
        TimeZone("backup_time_zone", "UTC", "Time zone of backup_hour, and of the days, weeks and months of which backups are kept."),
        Whole("backup_keep_daily", 7, 0, 3660, "How many days keep their newest backup; the newest of all is always kept."),
        Whole("backup_keep_weekly", 5, 0, 520, "How many weeks, from Monday, keep their newest backup."),
        Whole("backup_keep_monthly", 12, 0, 120, "How many months keep their newest backup."),
        Choice("restore_drill", "no", ["no", "yes"], "Whether the way back from the newest backup is tried every 30 days: restored aside, brought up to date, checked whole; needs three times its room beside the backups."),
        Whole("webhook_keep_days", 30, 1, 3650, "How long webhook messages that were sent stay listed, days."),
        Whole("webhook_dead_keep_days", 90, 0, 36500, "How long webhook messages that were given up stay listed, days; 0: for ever."),
        Whole("photo_keep_days", 0, 0, 36500, "How long photos of visits are kept, days; 0: for ever."),
        Whole("refused_keep_days", 0, 0, 36500, "How long rows that were refused are kept after they came last, days; 0: until they come right or are discarded."),
        Whole("alert_keep_days", 730, 0, 36500, "How long alerts are kept after they closed, days; 0: for ever."),
        Whole("import_progress_keep_days", 90, 0, 36500, "How long the import command remembers where it stopped in a file, days; 0: for ever."),
        Whole("equipment_keep_days", 90, 0, 36500, "How long past states of equipment that speaks MQTT are kept, days; the last of each always is; 0: for ever."),
        Whole("upkeep_keep_days", 400, 0, 36500, "How long notes of backups, drills and pruning are kept, days; 0: for ever."),
        Choice("webhook_internal_addresses", "no", ["no", "yes"], "Whether webhooks may call loopback, private and other internal addresses, and http."),
        Text("mqtt_host", "", "Name or address of the MQTT broker whose messages are taken in; left out: none are."),
        Whole("mqtt_port", 1883, 1, 65535, "Port of the MQTT broker; with TLS usually 8883."),
        Choice("mqtt_tls", "no", ["no", "yes"], "Whether the connection to the MQTT broker is encrypted and its certificate checked."),
        Text("mqtt_ca_file", "", "File of certificates (PEM) that the MQTT broker's certificate has to come from; left out: those that the machine trusts."),
        Text("mqtt_user", "", "User name at the MQTT broker."),
        Text("mqtt_password", "", "Password at the MQTT broker; taken from the environment or appsettings.json, never from the command line."),
        Text("mqtt_client_id", "washwear", "Client identifier at the MQTT broker, which keeps messages under it while this program is away; two programs must not share one."),
        Choice("mqtt_version", "5", ["5", "3.1.1"], "Version of MQTT that the broker speaks."),
        Whole("mqtt_session_hours", 168, 1, 8760, "How long the MQTT broker keeps messages for this program while it is away, hours; version 3.1.1 leaves that to the broker."),
        Whole("mqtt_in_flight", 200, 1, 65535, "Most MQTT messages that wait here for their commit at once; the broker of version 3.1.1 has its own limit."),
        Text("mqtt_mapping", "", "File that says which topics are listened to and which records their messages become."),
        Whole("import_limit_mib", 64, 1, 1024, "Largest spreadsheet that may be uploaded, MiB."),
        Whole("import_unpacked_mib", 512, 1, 8192, "Most that an uploaded workbook may unpack to, MiB."),
        Whole("import_rows_max", 1000000, 1, 100000000, "Most rows of one spreadsheet."),
        Whole("import_keep_hours", 48, 1, 8760, "How long an uploaded spreadsheet is kept after it was last touched, hours."),
        Whole("import_uploads_max", 20, 1, 1000, "Most spreadsheets that one person may have uploaded at once."),
        Choice("metrics", "yes", ["no", "yes"], "Whether the service measures itself, for /metrics and a collector."),
        Choice("metrics_open", "no", ["no", "yes"], "Whether /metrics answers without a key."),
        Text("otlp_endpoint", "", "Address of a collector that metrics and traces are sent to by OTLP, such as http://127.0.0.1:4318; left out: nowhere."),
        Choice("otlp_protocol", "http/protobuf", ["http/protobuf", "grpc"], "How the collector is spoken to."),
        Whole("trace_per_mille", 10, 0, 1000, "Requests in a thousand that are traced, beside those whose caller traces them; only with otlp_endpoint."),
        Whole("disk_free_mib", 1024, 0, 16777216, "Free disk beside the database below which /health tells of it, MiB; 0: never."),
        Whole("backup_age_hours", 36, 0, 87600, "Age of the newest backup above which /health tells of it, hours, once there is one; 0: never."),
        Whole("connections_max", 5000, 16, 1000000, "Most connections at once; those above are closed unanswered."),
        Whole("caller_requests_per_second", 200, 0, 1000000, "Requests a second that one key or person may send, ten times as many at once; records are not counted; 0: any number."),
        Whole("stranger_requests_per_second", 50, 0, 1000000, "Requests a second that one address may send without a key or sign-in, ten times as many at once; 0: any number."),
        Whole("sign_ins_per_minute", 60, 0, 100000, "Sign-ins a minute that one address may try; 0: any number."),
        Whole("costly_at_once", 0, 0, 1024, "Costly questions (fits, plans, forecasts, charts) answered at once, half of them of one caller; 0: as many as processors, at least 2."),
        Whole("costly_waiting", 64, 1, 10000, "Costly questions that wait for their turn, half of them of one caller; those above are told to come again."),
        Choice("invented_data", "no", ["no", "yes"], "Whether everything in the database is invented; pages then say so."),
        Choice("log_level", "information", ["debug", "information", "warning", "error"], "Least serious event that is logged."),
        Choice("log_format", "text", ["text", "json"], "How events are logged: as lines for people, or as one JSON object each for programs."),
        Text("log_file", "", "File that events are logged to beside the console, such as /var/log/washwear/washwear.log; the day is put into its name; left out: none."),
        Whole("log_file_mib", 100, 1, 10240, "Size at which a log file is closed and the next one begun, MiB."),
        Whole("log_file_count", 14, 1, 10000, "Log files that are kept; the oldest goes."),
    ];

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
