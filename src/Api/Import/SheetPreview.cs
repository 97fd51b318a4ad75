using System.Security.Cryptography;
using System.Text;
using Washwear.Api.Ingest;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import;

/// <summary>What would become of a row.</summary>
/// <param name="Row">Its number in the sheet.</param>
/// <param name="Cells">What stands in it, a text a column.</param>
/// <param name="Problem">Why it would be refused; null: it would not.</param>
/// <param name="Doubts">What looks wrong in it, though it would be taken in.</param>
/// <param name="Repeats">Whether a row before says the same.</param>
internal sealed record RowVerdict(int Row, IReadOnlyList<string> Cells, RowProblem? Problem, IReadOnlyList<RowProblem> Doubts, bool Repeats);

/// <summary>Rows of one problem or doubt.</summary>
/// <param name="Example">The problem of the first of them.</param>
/// <param name="FirstRow">Number of the first of them.</param>
/// <param name="Rows">How many they are.</param>
internal sealed record RowsOfAProblem(RowProblem Example, int FirstRow, int Rows);

/// <summary>What would become of a sheet if it were taken in now. Rows that were taken in before are not told apart: only taking them in does.</summary>
/// <param name="Rows">Rows of the sheet.</param>
/// <param name="Good">Rows that would be taken in.</param>
/// <param name="Doubted">Of these, ones that look wrong.</param>
/// <param name="Repeated">Of these, ones that say the same as a row before.</param>
/// <param name="Refused">Rows that would be refused.</param>
/// <param name="First">The first rows.</param>
/// <param name="Problems">Why rows would be refused, the most frequent first.</param>
/// <param name="Doubts">What looks wrong, the most frequent first.</param>
/// <param name="Respelled">Spellings that were taken for codes.</param>
/// <param name="Broken">Why the rest of the sheet could not be read; null: all of it could.</param>
internal sealed record SheetPreview(
    int Rows, int Good, int Doubted, int Repeated, int Refused, IReadOnlyList<RowVerdict> First, IReadOnlyList<RowsOfAProblem> Problems,
    IReadOnlyList<RowsOfAProblem> Doubts, IReadOnlyCollection<Respelled> Respelled, string? Broken)
{
    /// <summary>Judges all rows of a sheet; nothing is written.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="source">Source of the records.</param>
    /// <param name="now">The instant.</param>
    /// <param name="show">How many of the first rows to show.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<SheetPreview> MakeAsync(OpenedSheet sheet, string source, DateTimeOffset now, int show, CancellationToken cancellationToken)
    {
        var tally = new Tally(sheet, source, now, show);
        string? broken = null;
        try
        {
            await foreach (SheetRow row in sheet.RowsAsync(cancellationToken))
            {
                tally.Judge(row);
            }
        }
        catch (UnreadableBodyException error)
        {
            broken = error.Message + " " + error.Mend;
        }

        return tally.Done(broken);
    }

    private sealed class Tally(OpenedSheet sheet, string source, DateTimeOffset now, int show)
    {
        private readonly RowCells _cells = sheet.Cells();
        private readonly RecordRules _rules = new(sheet.Codes.Registry, now, new NearestCode());
        private readonly HashSet<long> _keys = [];
        private readonly List<RowVerdict> _first = [];
        private readonly Dictionary<(string?, string), RowsOfAProblem> _problems = [];
        private readonly Dictionary<(string?, string), RowsOfAProblem> _doubts = [];
        private RecordRows? _records;
        private RegistryRows? _registry;
        private int _rows;
        private int _doubted;
        private int _repeated;
        private int _refused;

        public void Judge(SheetRow row)
        {
            _rows++;
            (RowProblem? problem, IReadOnlyList<RowProblem> doubts, string? key) = _cells.Kind.IsRegistry ? OfRegistry(row) : OfRecord(row);
            bool repeats = problem is null && !_cells.Kind.IsRegistry && key is not null && !_keys.Add(Short(key));
            _refused += problem is null ? 0 : 1;
            _doubted += doubts.Count > 0 ? 1 : 0;
            _repeated += repeats ? 1 : 0;
            Count(_problems, problem, row.Number);
            foreach (RowProblem doubt in doubts)
            {
                Count(_doubts, doubt, row.Number);
            }

            if (_first.Count < show)
            {
                _first.Add(new RowVerdict(row.Number, [.. Enumerable.Range(0, sheet.Profile.Columns.Count).Select(column => row[column].Text)], problem, doubts, repeats));
            }
        }

        public SheetPreview Done(string? broken) => new(
            _rows, _rows - _refused, _doubted, _repeated, _refused, _first, Sorted(_problems), Sorted(_doubts), _cells.Respelled, broken);

        // Eight bytes of a digest instead of the key: a million keys stay small.
        private static long Short(string key) => BitConverter.ToInt64(SHA256.HashData(Encoding.UTF8.GetBytes(key)));

        private static IReadOnlyList<RowsOfAProblem> Sorted(Dictionary<(string?, string), RowsOfAProblem> of) => [.. of.Values.OrderByDescending(one => one.Rows).ThenBy(one => one.FirstRow)];

        private static void Count(Dictionary<(string?, string), RowsOfAProblem> of, RowProblem? problem, int row)
        {
            if (problem is not null)
            {
                RowsOfAProblem known = of.GetValueOrDefault((problem.Field, problem.Rule)) ?? new RowsOfAProblem(problem, row, 0);
                of[(problem.Field, problem.Rule)] = known with { Rows = known.Rows + 1 };
            }
        }

        private (RowProblem? Problem, IReadOnlyList<RowProblem> Doubts, string? Key) OfRecord(SheetRow row)
        {
            IncomingRow read = (_records ??= new RecordRows(_cells, sheet.Codes.Registry, source)).Read(row);
            if (read.Record is null)
            {
                return (read.Problem, [], read.Key);
            }

            Verdict verdict = _rules.Check(read.Record);
            return (verdict.Problem, verdict.Problem is null ? verdict.Doubts ?? [] : [], read.Key);
        }

        private (RowProblem? Problem, IReadOnlyList<RowProblem> Doubts, string? Key) OfRegistry(SheetRow row)
        {
            (string? code, RowProblem? problem) = (_registry ??= new RegistryRows(_cells, sheet.Codes.Registry)).Read(row);
            return (problem, [], code);
        }
    }
}
