namespace Washwear.Analytics.PartLife;

/// <summary>A life that cannot be: it is refused where lives enter, so that no method has to guess. Nothing was added.</summary>
public sealed class LifeRefusedException : ArgumentException
{
    /// <summary>Refuses a life.</summary>
    /// <param name="field">Argument that breaks the rule, such as 'age' or 'enteredAt'.</param>
    /// <param name="rule">The rule, the value given and what to do instead, as one sentence.</param>
    public LifeRefusedException(string field, string rule)
        : base(rule, field)
    {
        Field = field;
        Rule = rule;
    }

    /// <summary>Argument that breaks the rule.</summary>
    public string Field { get; }

    /// <summary>The rule, the value given and what to do instead.</summary>
    public string Rule { get; }
}
