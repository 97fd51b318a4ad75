using Washwear.Dashboard.People;

namespace Washwear.Dashboard.Tests;

/// <summary>People, sessions, invitations and keys to show, and such whose words try to break out of the page.</summary>
internal static class PeopleSamples
{
    private static readonly DateTimeOffset At = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);

    public static IReadOnlyList<string> All { get; } = ["read", "ingest", "work", "plan", "manage", "administer"];

    public static PersonEntry Anna { get; } = new(1, "anna", "Anna", ["read", "work"], new ScopeEntry("operators", ["NORTH"]), true, At, null);

    public static PersonEntry Hostile { get; } = new(
        long.MaxValue, Tests.Hostile.Name, Tests.Hostile.Name, [Tests.Hostile.Name], new ScopeEntry("sites", [Tests.Hostile.Name]), false, DateTimeOffset.MinValue,
        DateTimeOffset.MaxValue);

    public static GrantTyped Typed { get; } = new("Ben of the north", ["work"], new ScopeEntry("sites", ["SITE-8, SITE-9"]));

    public static GrantTyped HostileTyped { get; } = new(Tests.Hostile.Name, [Tests.Hostile.Name], new ScopeEntry(Tests.Hostile.Name, [Tests.Hostile.Name]), true);

    public static IReadOnlyList<SessionEntry> Sessions { get; } =
        [new(1, 1, "anna", At, At, "192.0.2.7", "A browser"), new(2, 1, "anna", At, At, "", "")];

    public static IReadOnlyList<SessionEntry> HostileSessions { get; } =
        [new(long.MaxValue, null, Tests.Hostile.Name, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, Tests.Hostile.Name, Tests.Hostile.Name)];

    public static InvitationEntry Invitation { get; } = new(
        1, "Ben", ["read"], new ScopeEntry("everything"), "admin", At, At.AddDays(7), "https://fleet.example/join?token=T");

    public static InvitationEntry HostileInvitation { get; } = new(
        2, Tests.Hostile.Name, [Tests.Hostile.Name], new ScopeEntry(Tests.Hostile.Name), Tests.Hostile.Name, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, Tests.Hostile.Name);

    public static IReadOnlyList<KeyEntry> Keys { get; } =
        [new("admin", All, new ScopeEntry("everything"), At, null), new("old", ["ingest"], new ScopeEntry("everything"), At, At)];

    public static IReadOnlyList<KeyEntry> HostileKeys { get; } =
        [new(Tests.Hostile.Name, [Tests.Hostile.Name], new ScopeEntry(Tests.Hostile.Name), DateTimeOffset.MinValue, null, Tests.Hostile.Name)];
}
