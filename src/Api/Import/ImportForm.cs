using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.Primitives;
using Washwear.Api.Import.Guessing;

namespace Washwear.Api.Import;

/// <summary>Reads the forms of the import pages.</summary>
internal static class ImportForm
{
    private const long Mebibyte = 1024 * 1024;
    private const int MostFields = 16_384;

    /// <summary>Reads an upload, however small other bodies have to be.</summary>
    /// <exception cref="BadHttpRequestException">It is too large, or no form.</exception>
    public static async Task<IFormCollection> ReadUploadAsync(HttpContext context, IAntiforgery forms, Settings settings, CancellationToken cancellationToken)
    {
        RefuseOthers(context);
        long most = settings.ImportLimitBytes + Mebibyte;
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
        {
            limit.MaxRequestBodySize = Math.Max(settings.RequestLimitBytes, most);
        }

        IFormCollection form = await context.Request.ReadFormAsync(new FormOptions { MultipartBodyLengthLimit = most, ValueLengthLimit = 4096 }, cancellationToken);
        await forms.ValidateRequestAsync(context);
        return form;
    }

    /// <summary>Reads the form of a mapping: one field for each column and word of the sheet.</summary>
    public static async Task<IFormCollection> ReadAsync(HttpContext context, IAntiforgery forms, CancellationToken cancellationToken)
    {
        RefuseOthers(context);
        IFormCollection form = await context.Request.ReadFormAsync(new FormOptions { ValueCountLimit = MostFields, BufferBodyLengthLimit = 8 * Mebibyte }, cancellationToken);
        await forms.ValidateRequestAsync(context);
        return form;
    }

    /// <summary>The mapping that a form says.</summary>
    /// <param name="form">The form.</param>
    /// <param name="kind">What the rows are.</param>
    public static ImportMapping Mapping(IFormCollection form, string kind) => new(
        kind,
        [.. Pairs(form["heading"], form["field"]).Select(pair => new MappedColumn(pair.First, OrNull(pair.Second)))],
        form["date_order"].ToString() switch { "day_first" => DateOrder.DayFirst, "month_first" => DateOrder.MonthFirst, _ => null },
        form["decimal_mark"].ToString() switch { "point" => DecimalMark.Point, "comma" => DecimalMark.Comma, _ => null },
        OrNull(form["time_zone"].ToString()),
        [.. Pairs(form["word_field"], form["word"]).Zip(form["word_value"].Select(value => value ?? string.Empty), (word, value) => new MappedWord(word.First, word.Second, OrNull(value)))],
        [.. Pairs(form["fixed_field"], form["fixed_value"]).Where(pair => !string.IsNullOrWhiteSpace(pair.Second)).Select(pair => new FixedValue(pair.First, pair.Second.Trim()))],
        OrNull(form["sheet"].ToString()));

    private static void RefuseOthers(HttpContext context)
    {
        if (!context.Request.HasFormContentType)
        {
            throw new BadHttpRequestException("A form is asked for.", StatusCodes.Status415UnsupportedMediaType);
        }
    }

    private static IEnumerable<(string First, string Second)> Pairs(StringValues first, StringValues second) =>
        first.Select(one => one ?? string.Empty).Zip(second.Select(other => other ?? string.Empty));

    private static string? OrNull(string text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
