using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;

namespace Washwear.Api.Projections;

/// <summary>One spelling for each code: the model's, or capitals for a code that the model does not know.</summary>
internal static class Spelling
{
    /// <summary>Grade of a wash of which neither grade nor programme is known.</summary>
    public const string UnknownGrade = "unknown";

    /// <summary>The spelling of a fault code.</summary>
    /// <param name="model">The model.</param>
    /// <param name="code">The code as reported.</param>
    public static string Fault(ModelEntry model, string code) =>
        model.Faults.TryGetValue(code, out FaultResource? listed) ? listed.Code : code.ToUpperInvariant();

    /// <summary>The spelling of a position.</summary>
    /// <param name="model">The model.</param>
    /// <param name="code">The code as reported.</param>
    public static string Position(ModelEntry model, string code) =>
        model.Positions.TryGetValue(code, out PositionResource? listed) ? listed.Position : code.ToUpperInvariant();

    /// <summary>The grade that a wash counts with: as reported, else the programme's.</summary>
    /// <param name="model">The model.</param>
    /// <param name="grade">Grade as reported.</param>
    /// <param name="programme">Programme as reported.</param>
    public static ProgrammeGrade? Grade(ModelEntry model, ProgrammeGrade? grade, string? programme) =>
        grade ?? (programme is not null && model.Programmes.TryGetValue(programme, out ProgrammeResource? listed) ? listed.Grade : null);
}
