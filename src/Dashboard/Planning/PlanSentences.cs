using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on the plan: parts, and of which nothing can be planned.</summary>
public static class PlanSentences
{
    /// <summary>A name within a sentence: in English one that begins with an abbreviation keeps its capitals, in other languages each does.</summary>
    /// <param name="name">The name.</param>
    internal static string Lower(string name) =>
        ReaderPreferences.Current.Language == ReaderPreferences.English && name.Length > 1 && char.IsUpper(name[0]) && char.IsLower(name[1])
            ? char.ToLowerInvariant(name[0]) + name[1..]
            : name;

    /// <summary>How figures of planning come about.</summary>
    /// <param name="method">The method.</param>
    public static string Method(PlanMethod method) => PlanTexts.Now.Methods[method];

    /// <summary>What to know before acting on figures of planning.</summary>
    /// <param name="doubt">The doubt.</param>
    public static string Doubt(PlanDoubt doubt) => PlanTexts.Now.Doubts[doubt];

    /// <summary>That a position has no life model.</summary>
    /// <param name="position">Code of the position.</param>
    /// <param name="gap">Why.</param>
    public static string NoModel(string position, PlanGap gap) => Fill.In(PlanTexts.Now.NoModel, ("position", position), ("why", Gap(gap)));

    /// <summary>That parts cannot be planned because of their costs.</summary>
    /// <param name="parts">How many, above 0.</param>
    /// <param name="gap">Why.</param>
    public static string NoCosts(int parts, PlanGap gap) => PlanTexts.Now.NoCosts.For(parts, ("why", Gap(gap)));

    /// <summary>What ages are counted in where positions differ.</summary>
    public static string SeveralClocks => PlanTexts.Now.SeveralClocks;

    /// <summary>Why nothing is planned, as a clause.</summary>
    /// <param name="gap">The reason.</param>
    public static string Gap(PlanGap gap)
    {
        ArgumentNullException.ThrowIfNull(gap);
        string clock = gap.Kind == PlanGapKind.AgeNotKnown ? Text.ClockUnitAfter(gap.Clock) : Text.ClockUnit(gap.Clock);
        return Fill.In(PlanTexts.Now.Gaps[gap.Kind], ("why", Remarks.Told(gap.Remark)), ("clock", clock));
    }

    /// <summary>What is ahead of a part.</summary>
    /// <param name="row">The part; its sentence may still be empty.</param>
    /// <param name="today">The day at its site.</param>
    public static string Part(PlannedPartRow row, DateOnly today)
    {
        ArgumentNullException.ThrowIfNull(row);
        PartsPartTexts texts = PlanPartsTexts.Now.Part;
        if (row.Decision is { } decision)
        {
            return decision.Sentence;
        }

        if (row.NotPlanned is { } why)
        {
            string nothing = Fill.In(texts.Nothing, ("why", why));
            return row.Chance90Days is { } known ? nothing + " " + Fill.In(texts.Chance, ("share", Text.Capital(Text.Share(known.Value)))) : nothing;
        }

        string ahead = row.Verdict switch
        {
            PlanVerdict.ReplaceAtAge when row.DueOn <= today => texts.Past,
            PlanVerdict.ReplaceAtAge => row.DueOn is { } due ? Fill.In(texts.About, ("date", Text.Date(due))) : texts.Later,
            PlanVerdict.RunToFailure => texts.Run,
            _ => texts.NotTold,
        };
        return Fill.In(ahead, ("share", Text.Share(row.Chance90Days?.Value)));
    }

    /// <summary>The finding over some parts.</summary>
    /// <param name="parts">How many there are.</param>
    /// <param name="expected90">Failures to be expected within 90 days among those whose chance can be told.</param>
    /// <param name="due">How many are past the age at which replacing is cheapest.</param>
    /// <param name="without">How many have no known chance.</param>
    public static string Parts(int parts, double expected90, int due, int without)
    {
        PartsPartTexts texts = PlanPartsTexts.Now.Part;
        return parts == 0 ? texts.None
            : texts.Expected.For(parts, ("expected", Text.Number(expected90)), ("due", due == 0 ? texts.NoneDue : texts.Due.For(due)))
                + (without == 0 ? string.Empty : " " + texts.Without.For(without));
    }
}
