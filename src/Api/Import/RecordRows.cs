using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using NodaTime;
using Washwear.Api.Http;
using Washwear.Api.Import.Guessing;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import;

/// <summary>Makes records of rows, as if they had been sent: the reader and the rules of the one way in judge them. Not safe for concurrent
/// use.</summary>
/// <param name="cells">Reads the cells.</param>
/// <param name="registry">The registry.</param>
/// <param name="source">Source of the records.</param>
internal sealed class RecordRows(RowCells cells, RegistrySnapshot registry, string source)
{
    private const int KeyBytes = 12;

    private readonly RecordDraft _draft = new();
    private readonly SortedDictionary<string, string> _said = new(StringComparer.Ordinal);

    /// <summary>The record of a row, or why there is none.</summary>
    /// <param name="row">The row.</param>
    public IncomingRow Read(SheetRow row)
    {
        cells.Begin(row);
        _draft.Clear(textOnly: true);
        _said.Clear();
        UnitEntry? unit = Unit();
        foreach (ImportField field in cells.Kind.Fields.Where(field => field.Name != "unit"))
        {
            Set(field, unit?.Model);
        }

        SetMoments(unit);
        SetFinding(unit?.Model);
        string key = Key();
        Put(RecordField.Key, key);
        RowProblem? problem = cells.Problem;
        IncomingRecord? record = problem is null ? RecordBuilder.Build(_draft, cells.Kind.Name, source, out problem) : null;
        return record is not null
            ? new IncomingRow(row.Number, record, null, source, key, null, null)
            : new IncomingRow(row.Number, null, problem, source, key.Length <= FieldReader.LongestKey ? key : null, Encoding.UTF8.GetBytes(Line(value => value)), Line(null));
    }

    private UnitEntry? Unit()
    {
        ImportField field = cells.Kind.Find("unit")!;
        string? code = cells.Text(field, null);
        if (code is null)
        {
            return null;
        }

        Said("unit", cells.Cell("unit").IsEmpty ? null : code.ToUpperInvariant());
        Put(RecordField.Unit, code);
        return registry.Units.GetValueOrDefault(code);
    }

    private void Set(ImportField field, ModelEntry? model)
    {
        if (field.Role is FieldRole.Moment or FieldRole.Clock or FieldRole.Minutes || !RecordFields.ByName.TryGetValue(field.Name, out RecordField target))
        {
            return;
        }

        string? value = field.Role == FieldRole.Codes
            ? cells.Several(field, model) is { Count: > 0 } several ? JsonSerializer.Serialize(several, Json.Options) : null
            : cells.Text(field, model);
        Put(target, value);
        if (!cells.Cell(field.Name).IsEmpty)
        {
            // The word as it stands, so that another meaning of it is a contradiction and no second event.
            Said(field.Name, field.Role is FieldRole.Choice or FieldRole.YesNo ? Headings.Words(cells.Cell(field.Name).Text) : value);
        }
    }

    private void SetMoments(UnitEntry? unit)
    {
        DateTimeZone zone = cells.Zone ?? unit?.Site.Zone ?? DateTimeZone.Utc;
        LocalDateTime? start = null;
        foreach (ImportField field in cells.Kind.Fields.Where(field => field.Role == FieldRole.Moment))
        {
            WallTime? told = cells.Moment(field);
            double? minutes = told is null ? cells.MinutesOf(field.Name + ".minutes") : null;
            LocalDateTime? at = told is { } wall ? At(field, wall, start) : minutes is { } length && start is { } from ? from.PlusSeconds((long)Math.Round(length * 60)) : null;
            if (at is not { } local)
            {
                continue;
            }

            Offset? offset = told?.Offset;
            Said(field.Name, local.ToString("uuuu-MM-dd'T'HH:mm:ss.fff", System.Globalization.CultureInfo.InvariantCulture) + offset);
            DateTimeOffset instant = (offset is { } written ? local.WithOffset(written).ToDateTimeOffset() : local.InZoneLeniently(zone).ToDateTimeOffset()).ToUniversalTime();
            Put(RecordFields.ByName[field.Name], InstantConverter.Format(instant));
            start ??= local;
        }
    }

    // A time of day alone belongs to the day of the start, or to the next if it would lie before. A date alone is noon.
    private LocalDateTime? At(ImportField field, WallTime wall, LocalDateTime? start)
    {
        if (wall.Date is not { } date)
        {
            if (start is null || wall.Time is not { } time)
            {
                cells.Refuse(field, "no_date", "There is a time of day, but no date.", "Write date and time into the cell, or choose the column of the date.");
                return null;
            }

            LocalDateTime same = start.Value.Date + time;
            return same < start ? same.PlusDays(1) : same;
        }

        if (wall.Time is { } given)
        {
            return date + given;
        }

        LocalDateTime noon = date.At(LocalTime.Noon);
        return start is null ? noon
            : field.Name == "ended_at" ? null
            : start.Value.Date == date && start > noon ? start
            : noon;
    }

    private void SetFinding(ModelEntry? model)
    {
        if (cells.Kind.Find("finding.position") is not { } field || cells.Text(field, model) is not { } position)
        {
            return;
        }

        var finding = new Dictionary<string, string?> { ["position"] = position };
        foreach (string name in (string[])["failure_mode", "cause"])
        {
            if (cells.Text(cells.Kind.Find("finding." + name)!, model) is { } words)
            {
                finding[name] = words;
                Said("finding." + name, words);
            }
        }

        Said(field.Name, position);
        Put(RecordField.Findings, JsonSerializer.Serialize(new[] { finding }, Json.Options));
    }

    // The sheet's own key, else one made of what the row says: the same content has the same key, whichever file it comes in.
    private string Key()
    {
        if (cells.Cell("key") is { IsEmpty: false } own)
        {
            return own.Text;
        }

        var content = new StringBuilder(source).Append('\n').Append(cells.Kind.Name);
        foreach ((string field, string value) in _said)
        {
            content.Append('\n').Append(field).Append('=').Append(value);
        }

        return "sheet-" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(content.ToString())).AsSpan(0, KeyBytes));
    }

    private void Said(string field, string? value)
    {
        if (value is not null)
        {
            _said[field] = value;
        }
    }

    private void Put(RecordField field, string? value)
    {
        if (!string.IsNullOrEmpty(value))
        {
            _draft.Set(field, new Slot(SlotKind.Text, value));
        }
    }

    // A row that could not be made a record is kept as CSV with the program's own headings, ready to be mended and sent.
    private string Line(Func<string, string>? value) => string.Join(',', Given().Select(field => Quote(value is null ? RecordFields.Name(field) : value(_draft[field].Text!))).Prepend(value is null ? "type" : cells.Kind.Name));

    private IEnumerable<RecordField> Given() => Enum.GetValues<RecordField>().Where(_draft.Has);

    private static string Quote(string cell) =>
        cell.AsSpan().ContainsAny(",\"\r\n") ? "\"" + cell.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"" : cell;
}
