using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Audit;

/// <summary>The audit in plain words.</summary>
public static class AuditWords
{
    private static readonly Dictionary<string, string> Done = new(StringComparer.Ordinal)
    {
        ["session.begin"] = "Signed in",
        ["session.end"] = "Signed out",
        ["alert.see"] = "Marked an alert as seen",
        ["approval.decide"] = "Decided an approval",
        ["refused.discard"] = "Discarded a refused row",
        ["visit.close"] = "Closed a visit",
        ["visit.add_photo"] = "Added photos to a visit",
        ["plan.decide"] = "Decided a planned job",
        ["import.upload"] = "Uploaded a spreadsheet",
        ["import.change"] = "Changed or began an import",
        ["registry.put"] = "Put the whole registry",
        ["plan_terms.put"] = "Put the plan terms",
        ["webhook.make_secret"] = "Made a new secret of a webhook",
        ["webhook.resend"] = "Had a webhook message sent again",
        ["webhook.test"] = "Sent a test message to a webhook",
        ["key.make"] = "Made a key",
        ["key.revoke"] = "Revoked a key",
        ["person.erase"] = "Erased a person",
        ["database.import"] = "Imported a file",
        ["database.export"] = "Exported the whole database",
        ["database.rebuild"] = "Derived everything anew",
        ["database.restore"] = "Restored a backup",
    };

    /// <summary>What was done, such as 'Decided an approval'; an action without words of its own in its own: 'Webhook: delete'.</summary>
    /// <param name="action">The action.</param>
    public static string What(string action)
    {
        ArgumentNullException.ThrowIfNull(action);
        return Done.TryGetValue(action, out string? words) ? words : Text.Words(action.Replace(".", ": ", StringComparison.Ordinal).Replace('_', ' '));
    }

    /// <summary>Who did it, where no name is known or the name needs a word more.</summary>
    /// <param name="row">The entry.</param>
    public static string Who(AuditRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.CallerKind switch
        {
            CallerKind.Key => "with a key",
            CallerKind.Person => "signed in",
            CallerKind.System => "the program itself",
            CallerKind.Command => "at the machine's command line",
            CallerKind.Stranger => "somebody not known",
            _ => throw new ArgumentOutOfRangeException(nameof(row), row.CallerKind, "No such kind of caller."),
        };
    }

    /// <summary>How it ended, in words.</summary>
    /// <param name="row">The entry.</param>
    public static string Outcome(AuditRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.Status switch
        {
            null => "done; the answer is not known, as the program ended before it was noted",
            0 or (>= 200 and < 400) => "done",
            401 => "refused: not known",
            403 => "refused: not allowed",
            404 => "refused: there is no such thing",
            409 => "refused: it contradicted what was there",
            >= 400 and < 500 => "refused: not as the rules ask",
            _ => "failed",
        };
    }

    /// <summary>Whether it was done.</summary>
    /// <param name="row">The entry.</param>
    public static bool IsDone(AuditRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.Status is null or 0 or (>= 200 and < 400);
    }

    /// <summary>The finding of a page in one sentence.</summary>
    /// <param name="filter">What was asked for.</param>
    /// <param name="rows">The entries of the page.</param>
    /// <param name="isLast">Whether the page holds the oldest of them.</param>
    /// <param name="timeZone">IANA time zone in which instants are told.</param>
    public static string Sentence(AuditFilter filter, IReadOnlyList<AuditRow> rows, bool isLast, string timeZone)
    {
        ArgumentNullException.ThrowIfNull(filter);
        ArgumentNullException.ThrowIfNull(rows);
        if (rows.Count == 0)
        {
            return filter == AuditFilter.All ? "Nothing was changed yet." : "No entry matches.";
        }

        int refused = rows.Count(row => !IsDone(row));
        string some = isLast ? Text.Counted(rows.Count, "entry", "entries") : $"The latest {Text.Count(rows.Count)} entries";
        string ended = refused == 0 ? "all done" : refused == 1 ? "1 was refused or failed" : $"{refused} were refused or failed";
        return $"{some} since {Text.Moment(rows[^1].At, timeZone)}: {ended}.";
    }
}
