using System.Globalization;

namespace Washwear.Dashboard.Shell;

/// <summary>Links to the import of spreadsheets.</summary>
public static partial class Urls
{
    /// <summary>Where a spreadsheet is uploaded (GET shows the form, POST sends it).</summary>
    public const string Import = "/import";

    /// <summary>Templates of spreadsheets, on the page of imports.</summary>
    public const string ImportTemplates = Import + "#templates";

    /// <summary>Route of one uploaded sheet (GET shows it, POST changes how it is read, starts or stops it).</summary>
    public const string ImportSheetRoute = "/import/{id:long}";

    /// <summary>Route of the refused rows of a sheet.</summary>
    public const string ImportRefusedRoute = "/import/{id:long}/refused.csv";

    /// <summary>Route of templates; the file is named after the kind and ends in xlsx or csv.</summary>
    public const string ImportTemplateRoute = "/import/templates/{file}";

    /// <summary>Where a form forgets a mapping (POST).</summary>
    public const string ImportMappingForgetRoute = "/import/mappings/{mapping}/forget";

    /// <summary>One uploaded sheet.</summary>
    /// <param name="id">Its number.</param>
    /// <returns>The address.</returns>
    public static string ImportSheet(long id) => Fill(ImportSheetRoute, id.ToString(CultureInfo.InvariantCulture));

    /// <summary>The refused rows of a sheet, with what to mend.</summary>
    /// <param name="id">Its number.</param>
    /// <returns>The address.</returns>
    public static string ImportRefused(long id) => Fill(ImportRefusedRoute, id.ToString(CultureInfo.InvariantCulture));

    /// <summary>The template of a kind of rows.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="format">xlsx or csv.</param>
    /// <returns>The address.</returns>
    public static string ImportTemplate(string kind, string format) =>
        Query(Fill(ImportTemplateRoute, kind + "." + format));

    /// <summary>Where a form forgets a mapping.</summary>
    /// <param name="mapping">Its name.</param>
    /// <returns>The address.</returns>
    public static string ImportMappingForget(string mapping) => Fill(ImportMappingForgetRoute, mapping);
}
