namespace Washwear.Dashboard.Units;

/// <summary>What is said of a unit beside its state; page and API say the same.</summary>
public static class UnitSentences
{
    /// <summary>How a unit's page comes about.</summary>
    public static string Method => UnitTexts.Now.Page.Method;

    /// <summary>How units are found.</summary>
    public static string ListMethod => UnitTexts.Now.List.Method;

    /// <summary>The finding about a unit under no rule.</summary>
    public static string NoRule => UnitTexts.Now.Page.NoRuleApplies;

    /// <summary>Why nothing is told of a position.</summary>
    public static string NoPartChange => UnitTexts.Now.Parts.NoChange;
}
