namespace Washwear.Analytics.Cleaning;

/// <summary>How much a wash programme cleans. A rule's grade is met by itself and by any higher one; descaling stands apart.</summary>
public enum ProgrammeGrade
{
    /// <summary>Rinse only.</summary>
    Rinse = 1,

    /// <summary>Light wash.</summary>
    Light = 2,

    /// <summary>Standard wash.</summary>
    Standard = 3,

    /// <summary>Intensive wash.</summary>
    Intensive = 4,

    /// <summary>Descaling: meets only a rule that asks for descaling.</summary>
    Descale = 10,
}

/// <summary>The order of programme grades.</summary>
public static class ProgrammeGradeOrder
{
    /// <summary>Whether a wash of this grade is thorough enough for a rule that asks for <paramref name="asked"/>.</summary>
    /// <param name="grade">Grade of the wash.</param>
    /// <param name="asked">Grade that the rule asks for.</param>
    public static bool Satisfies(this ProgrammeGrade grade, ProgrammeGrade asked) =>
        grade == ProgrammeGrade.Descale || asked == ProgrammeGrade.Descale ? grade == asked : grade >= asked;
}
