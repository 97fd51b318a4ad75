namespace Washwear.Dashboard.People;

/// <summary>Abilities and scopes in plain words.</summary>
public static class PeopleWords
{
    /// <summary>Kinds of scope, the widest first.</summary>
    public static IReadOnlyList<string> Scopes { get; } = ["everything", "operators", "sites", "units"];

    /// <summary>What an ability lets somebody do.</summary>
    /// <param name="ability">The ability's word.</param>
    public static string Ability(string ability) => ability switch
    {
        "read" => "read reports and pages",
        "ingest" => "send records",
        "work" => "report visits, decide approvals, mark alerts as seen",
        "plan" => "decide about planned jobs",
        "manage" => "change registry, rules and webhooks",
        "administer" => "let others in and out",
        _ => ability,
    };

    /// <summary>State of a person in a few words.</summary>
    /// <param name="person">The person.</param>
    public static string State(PersonEntry person)
    {
        ArgumentNullException.ThrowIfNull(person);
        return person switch
        {
            { DisabledAt: not null } => "may not sign in",
            { HasPassword: false } => "has no password yet",
            _ => "may sign in",
        };
    }
}
