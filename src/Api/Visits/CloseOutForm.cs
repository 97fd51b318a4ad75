using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.Primitives;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Reads forms that carry photos.</summary>
internal static class CloseOutForm
{
    private const long Mebibyte = 1024 * 1024;

    // All photos at their largest, and the fields.
    private const long MostBytes = (VisitPhoto.Most * (long)PhotoFile.MostBytes) + (4 * Mebibyte);

    private static readonly FormOptions Limits = new()
    {
        MultipartBodyLengthLimit = MostBytes,
        ValueCountLimit = 8192,
        ValueLengthLimit = 64 * 1024,
        KeyLengthLimit = 2048,
    };

    /// <summary>Reads the form of a request and makes sure that it is one of ours.</summary>
    /// <param name="context">The request.</param>
    /// <param name="forms">Keeps forms safe.</param>
    /// <param name="settings">The settings.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="BadHttpRequestException">It is too large, or no form.</exception>
    /// <exception cref="InvalidDataException">It cannot be read.</exception>
    /// <exception cref="AntiforgeryValidationException">It lacks its token.</exception>
    public static async Task<IFormCollection> ReadAsync(
        HttpContext context, IAntiforgery forms, Settings settings, CancellationToken cancellationToken)
    {
        if (!context.Request.HasFormContentType)
        {
            throw new BadHttpRequestException("A form is asked for.", StatusCodes.Status415UnsupportedMediaType);
        }

        LiftLimit(context, settings);
        IFormCollection form = await ReadWholeAsync(context.Request, cancellationToken);
        await forms.ValidateRequestAsync(context);
        return form;
    }

    private static async Task<IFormCollection> ReadWholeAsync(HttpRequest request, CancellationToken cancellationToken)
    {
        try
        {
            return await request.ReadFormAsync(Limits, cancellationToken);
        }
        catch (IOException error) when (error is not BadHttpRequestException)
        {
            throw new BadHttpRequestException("The form breaks off before its end.", StatusCodes.Status400BadRequest, error);
        }
    }

    /// <summary>Lets a request carry photos, however small other bodies have to be.</summary>
    /// <param name="context">The request, its body not yet read.</param>
    /// <param name="settings">The settings.</param>
    public static void LiftLimit(HttpContext context, Settings settings)
    {
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
        {
            limit.MaxRequestBodySize = Math.Max(settings.RequestLimitBytes, MostBytes);
        }
    }

    /// <summary>What was entered.</summary>
    /// <param name="form">The form.</param>
    public static CloseOutValues Values(IFormCollection form)
    {
        var fields = new Dictionary<string, IReadOnlyList<string>>(StringComparer.Ordinal);
        foreach ((string name, StringValues values) in form)
        {
            fields[name] = [.. values.OfType<string>()];
        }

        return new CloseOutValues(fields);
    }
}
