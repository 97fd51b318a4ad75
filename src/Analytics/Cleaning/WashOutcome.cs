namespace Washwear.Analytics.Cleaning;

/// <summary>How one run of a wash programme ended.</summary>
public enum WashOutcome
{
    /// <summary>It ran to its end.</summary>
    Completed,

    /// <summary>A person stopped it.</summary>
    StoppedByPerson,

    /// <summary>A fault stopped it.</summary>
    StoppedByFault,

    /// <summary>The unit would not start it.</summary>
    Refused,

    /// <summary>It ran, and nobody knows how it ended.</summary>
    Unknown,
}
