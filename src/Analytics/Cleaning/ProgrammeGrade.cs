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
