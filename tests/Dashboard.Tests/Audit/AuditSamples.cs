using Washwear.Dashboard.Audit;

namespace Washwear.Dashboard.Tests.Audit;

/// <summary>Pages of the audit.</summary>
public static class AuditSamples
{
    public static IReadOnlyList<AuditRow> Rows =>
    [
        Row(7, CallerKind.Key, "service-desk", "unit.put", 200) with { AboutKind = "unit", About = "OV-1001", Detail = "0 new, 1 changed, 0 as before; unit OV-1001: reporting_hours: 24 → 12" },
        Row(6, CallerKind.Person, "n.feld", "approval.decide", 409) with { AboutKind = "approval", About = "118", Detail = "granted" },
        Row(5, CallerKind.Command, "keeper", "key.make", 0) with { AboutKind = "key", AboutName = "gateway-3", Method = null, Route = "keys add", Address = null, TraceId = null },
        Row(4, CallerKind.Stranger, null, "session.begin", 401),
        Row(3, CallerKind.System, null, "audit.forget", 0) with { Method = null, Route = null, Address = null, TraceId = null },
        Row(2, CallerKind.Key, "service-desk", "webhook.make_secret", null) with { AboutKind = "webhook", About = "crm" },
    ];

    public static AuditPageReport Page => new(
        Samples.Basis("entries as they were written", 6), AuditWords.Sentence(AuditFilter.All, Rows, isLast: false, "Etc/UTC"), Rows, "cursor",
        AuditFilter.All with { Caller = "service-desk", From = Samples.AsOf.AddDays(-7) });

    public static AuditPageReport HostilePage => new(
        Hostile.EmptyBasis,
        Hostile.Name,
        [Row(long.MaxValue, CallerKind.Key, Hostile.Name, Hostile.Name, 418) with { AboutKind = Hostile.Name, About = Hostile.LongName, AboutName = Hostile.Name, Detail = Hostile.Name, Address = Hostile.Name, TraceId = Hostile.LongName, At = DateTimeOffset.MaxValue }],
        Hostile.Name,
        new AuditFilter(DateTimeOffset.MinValue, DateTimeOffset.MaxValue, Hostile.Name, Hostile.Name, Hostile.Name));

    public static AuditPageReport Empty => new(Hostile.EmptyBasis, AuditWords.Sentence(AuditFilter.All, [], isLast: true, "Etc/UTC"), [], null, AuditFilter.All);

    private static AuditRow Row(long id, CallerKind kind, string? caller, string action, long? status) => new(
        id, Samples.AsOf.AddHours(-8 + Math.Min(id, 8)), kind, kind is CallerKind.Key or CallerKind.Person ? 3 : null, caller, action, "PUT", "/v1/units/{unit}",
        null, null, null, status, "192.0.2.17", "4bf92f3577b34da6a3ce929d0e0e4736", null);
}
