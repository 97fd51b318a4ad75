using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Washwear.Api.Import;
using Washwear.Api.Ingest;

namespace Washwear.Api.Commands;

/// <summary>Counts what an import does, shows how far it is, and keeps the place that it reached.</summary>
/// <param name="progress">Keeps the place.</param>
/// <param name="digest">Digest of the file and of how it is read.</param>
internal sealed class ImportWatch(ImportProgressQueries progress, string digest)
{
    private const int BarWidth = 30;
    private const int MostProblemsShown = 1_000;
    private static readonly TimeSpan BetweenLines = TimeSpan.FromSeconds(5);

    private readonly Stopwatch _watch = Stopwatch.StartNew();
    private readonly bool _terminal = !Console.IsErrorRedirected;
    private TimeSpan _lastLine;
    private int _problemsShown;
    private int _here;

    /// <summary>Rows that an earlier run dealt with.</summary>
    public int Before { get; private set; }

    /// <summary>Rows dealt with, those of earlier runs included.</summary>
    public int Rows => Before + _here;

    private int Accepted { get; set; }

    private int Doubted { get; set; }

    private int Duplicate { get; set; }

    private int Refused { get; set; }

    /// <summary>Digest of a file and of how it is read.</summary>
    /// <param name="file">The file.</param>
    /// <param name="terms">How it is read.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<string> DigestAsync(FileInfo file, string terms, CancellationToken cancellationToken)
    {
        await using FileStream stream = file.OpenRead();
        byte[] content = await SHA256.HashDataAsync(stream, cancellationToken);
        return Convert.ToHexStringLower(SHA256.HashData([.. content, .. Encoding.UTF8.GetBytes(terms)]));
    }

    /// <summary>Looks up how far an earlier run came, and says so.</summary>
    /// <param name="fromStart">Whether that does not matter.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task BeginAsync(bool fromStart, CancellationToken cancellationToken)
    {
        Before = fromStart ? 0 : await progress.RowsAsync(digest, cancellationToken);
        if (Before > 0)
        {
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Going on after {Before:N0} rows that an earlier run took in (--from-start begins anew; that is safe)."));
        }
    }

    /// <summary>Tells of rows that are on disk.</summary>
    /// <param name="rows">How many.</param>
    /// <param name="counts">Accepted, doubted, duplicate and refused ones.</param>
    /// <param name="share">Share of the file that is read, 0 to 1; null: not known.</param>
    public async Task DoneAsync(int rows, (int Accepted, int Doubted, int Duplicate, int Refused) counts, double? share)
    {
        _here += rows;
        Accepted += counts.Accepted;
        Doubted += counts.Doubted;
        Duplicate += counts.Duplicate;
        Refused += counts.Refused;
        await progress.NoteAsync(digest, Rows);
        Show(share);
    }

    /// <summary>Tells of a refused row.</summary>
    /// <param name="row">Its number.</param>
    /// <param name="key">Its key.</param>
    /// <param name="problem">Why.</param>
    public void Tell(int row, string? key, RowProblem problem)
    {
        if (++_problemsShown <= MostProblemsShown)
        {
            Wipe();
            Console.Error.WriteLine($"row {row}, key {key ?? "?"}, {problem.Field ?? "row"}: {problem.Detail} {problem.Mend}");
        }
        else if (_problemsShown == MostProblemsShown + 1)
        {
            Console.Error.WriteLine("More rows were refused; the list of refused records has them all.");
        }
    }

    /// <summary>Says what the whole came to, and forgets the place.</summary>
    /// <param name="what">What the rows are: Records, or the name of a kind.</param>
    /// <returns>The command's exit code.</returns>
    public async Task<int> EndAsync(string what)
    {
        Wipe();
        await progress.ForgetAsync(digest);
        Console.Out.WriteLine($"{what}: {Accepted} accepted ({Doubted} doubted), {Duplicate} duplicate, {Refused} refused.");
        if (_here > 0 && _watch.Elapsed.TotalSeconds >= 1)
        {
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{_here:N0} rows in {_watch.Elapsed.TotalSeconds:F1} s, {Rate:N0} rows/s."));
        }

        return Refused == 0 ? 0 : 1;
    }

    /// <summary>Says that it was stopped, and how to go on.</summary>
    public int Stopped()
    {
        Wipe();
        Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Stopped after {Rows:N0} rows, all of them on disk. The same command goes on from there."));
        return 1;
    }

    private double Rate => _here / Math.Max(0.001, _watch.Elapsed.TotalSeconds);

    private void Show(double? share)
    {
        string line = string.Create(CultureInfo.InvariantCulture, $"{Rows:N0} rows, {Rate:N0} rows/s");
        if (_terminal)
        {
            int full = (int)Math.Round(BarWidth * Math.Clamp(share ?? 0, 0, 1));
            string bar = share is null ? string.Empty : string.Create(CultureInfo.InvariantCulture, $"[{new string('#', full)}{new string('.', BarWidth - full)}] {share:P0}  ");
            Console.Error.Write("\r" + (bar + line).PadRight(78));
        }
        else if (_watch.Elapsed - _lastLine >= BetweenLines)
        {
            _lastLine = _watch.Elapsed;
            Console.Out.WriteLine(share is null ? line : string.Create(CultureInfo.InvariantCulture, $"{line}, {share:P0} of the file"));
        }
    }

    private void Wipe()
    {
        if (_terminal)
        {
            Console.Error.Write("\r" + new string(' ', 78) + "\r");
        }
    }
}
