using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Audit;

/// <summary>The audit in plain words.</summary>
public static class AuditWords
{
    /// <summary>How entries come about.</summary>
    public static string Method => AuditTexts.Now.Method;

    /// <summary>What was done, such as 'Decided an approval'; an action without words of its own by its thing: 'Webhook: delete'.</summary>
    /// <param name="action">The action.</param>
    public static string What(string action)
    {
        ArgumentNullException.ThrowIfNull(action);
        AuditTexts texts = AuditTexts.Now;
        if (texts.Actions.TryGetValue(action, out string? words))
        {
            return words;
        }

        string[] parts = action.Split('.', 2);
        return parts.Length == 1 ? Thing(action)
            : Fill.In(texts.OtherAction, ("thing", Thing(parts[0])), ("verb", texts.Verbs.GetValueOrDefault(parts[1], parts[1].Replace('_', ' '))));
    }

    /// <summary>What an entry is about, such as 'Stock point'.</summary>
    /// <param name="kind">The kind of thing; null: nothing in particular.</param>
    public static string Thing(string? kind) => kind is null ? string.Empty : AuditTexts.Now.Things.GetValueOrDefault(kind) ?? Text.Words(kind);

    /// <summary>Who did it, where no name is known or the name needs a word more.</summary>
    /// <param name="row">The entry.</param>
    public static string Who(AuditRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return AuditTexts.Now.Callers[row.CallerKind];
    }

    /// <summary>How it ended, in words.</summary>
    /// <param name="row">The entry.</param>
    public static string Outcome(AuditRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return AuditTexts.Now.Outcomes[row.Status switch
        {
            null => "not_noted",
            0 or (>= 200 and < 400) => "done",
            401 => "not_known",
            403 => "not_allowed",
            404 => "no_such_thing",
            409 => "contradicted",
            >= 400 and < 500 => "against_rules",
            _ => "failed",
        }];
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
        FindingTexts texts = AuditTexts.Now.Finding;
        if (rows.Count == 0)
        {
            return filter == AuditFilter.All ? texts.NothingYet : texts.NoMatch;
        }

        int refused = rows.Count(row => !IsDone(row));
        return (isLast ? texts.All : texts.Latest).For(
            rows.Count, ("time", Text.Moment(rows[^1].At, timeZone)), ("ended", refused == 0 ? texts.AllDone : texts.Refused.For(refused)));
    }
}
