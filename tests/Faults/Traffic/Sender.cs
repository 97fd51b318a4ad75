using System.Globalization;
using System.Net;

namespace Washwear.Faults.Traffic;

/// <summary>One sender with a source of its own: sends portion after portion, each until it is acknowledged, as the promise of
/// at-least-once asks of it. What was acknowledged is kept as the truth that the database is held against.</summary>
/// <param name="number">Its number; number 0 puts units of the registry beside.</param>
/// <param name="seed">Seed of its chance.</param>
/// <param name="findings">Where broken promises are told.</param>
/// <param name="seqOf">Finds the number of a record in the ledger; null: it is not there.</param>
internal sealed class Sender(int number, int seed, Findings findings, Func<string, string, long?> seqOf)
{
    private const int MostRows = 120;
    private const int ManyRows = 5_600;
    private static readonly TimeSpan AfterRefusal = TimeSpan.FromMilliseconds(100);
    private readonly Random _random = new(seed);
    private readonly RowMaker _maker = new($"k{number}-", new Random(seed + 1));
    private readonly Queue<Portion> _next = new();
    private int _puts;

    /// <summary>Its source.</summary>
    public string Source { get; } = string.Create(CultureInfo.InvariantCulture, $"gate-{number}");

    /// <summary>What was acknowledged, in order.</summary>
    public List<Portion> Acknowledged { get; } = [];

    /// <summary>What was sent without an answer, or with one that says to send it again; null: nothing.</summary>
    public Portion? Pending { get; private set; }

    /// <summary>Largest batch in use, rows.</summary>
    public int RowsAtMost { get; init; } = MostRows;

    /// <summary>Whether a batch of more than one transaction is sent now and then.</summary>
    public bool SendsMany { get; init; }

    /// <summary>Whether answers that say to try again later are part of the fault.</summary>
    public bool ExpectsRefusals { get; init; }

    /// <summary>Called for each answer that says to try again later, with the portion.</summary>
    public Action<Portion, HttpResponseMessage>? Refused { get; init; }

    /// <summary>Sends so many portions.</summary>
    /// <param name="client">A client that may.</param>
    /// <param name="portions">How many.</param>
    public async Task RunAsync(HttpClient client, int portions)
    {
        for (int sent = 0; sent < portions; sent++)
        {
            Pending ??= Next();
            await SettleAsync(client, tries: 3);
        }
    }

    /// <summary>Sends until it is told to stop or nobody answers any more.</summary>
    /// <param name="client">A client that may.</param>
    /// <param name="stop">Stops between two portions.</param>
    public async Task RunAsync(HttpClient client, CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            Pending ??= Next();
            try
            {
                if (!await SendAsync(client, Pending))
                {
                    await Task.Delay(AfterRefusal, CancellationToken.None);
                }
            }
            catch (Exception error) when (error is HttpRequestException or IOException or TaskCanceledException)
            {
                return;
            }
        }
    }

    /// <summary>Sends what is pending, if anything, until it is acknowledged.</summary>
    /// <param name="client">A client that may.</param>
    /// <param name="tries">How often it is tried.</param>
    public async Task SettleAsync(HttpClient client, int tries)
    {
        for (int left = tries; Pending is not null && left > 0; left--)
        {
            if (!await SendAsync(client, Pending))
            {
                await Task.Delay(AfterRefusal);
            }
        }

        findings.Expect(Pending is null, $"{Source}: a portion was not taken in {tries} tries");
    }

    private async Task<bool> SendAsync(HttpClient client, Portion portion)
    {
        using HttpResponseMessage answer = await portion.SendAsync(client);
        string body = await answer.Content.ReadAsStringAsync();
        if (!portion.IsDone(answer.StatusCode))
        {
            findings.Count($"answers {(int)answer.StatusCode}");
            Refused?.Invoke(portion, answer);
            findings.Expect(
                ExpectsRefusals && answer.StatusCode is HttpStatusCode.ServiceUnavailable or HttpStatusCode.InsufficientStorage or HttpStatusCode.TooManyRequests,
                $"{Source}: {(int)answer.StatusCode} {body}");
            return false;
        }

        if (answer.StatusCode == HttpStatusCode.OK && portion.Wrong(body) is { } wrong)
        {
            findings.Violate(wrong);
        }

        Acknowledged.Add(portion);
        findings.Count($"acknowledged {Kind(portion)}");
        Pending = null;
        Follow(portion);
        return true;
    }

    private static string Kind(Portion portion) => portion switch
    {
        RowsPortion { Bad: not null } => "portions with a bad row",
        RowsPortion { AllOrNothing: true } => "all-or-nothing portions",
        RowsPortion { Rows.Count: 1 } => "single records",
        RowsPortion => "batches",
        PhotoPortion => "photos",
        DecisionPortion => "decisions",
        _ => "registry puts",
    };

    // A visit is followed by its photo, a request for approval by the decision.
    private void Follow(Portion portion)
    {
        if (portion is not RowsPortion { Rows: [{ Type: "visit" or "approval" } row], IsKept: true })
        {
            return;
        }

        if (row.Type == "visit")
        {
            byte[] photo = new byte[_random.Next(2_000, 60_000)];
            _random.NextBytes(photo);
            (photo[0], photo[1], photo[2]) = (0xFF, 0xD8, 0xFF);
            _next.Enqueue(new PhotoPortion(Source, row.Key, photo));
        }
        else if (seqOf(Source, row.Key) is { } seq)
        {
            _next.Enqueue(new DecisionPortion(Source, row.Key, seq));
        }
    }

    private Portion Next()
    {
        if (_next.TryDequeue(out Portion? portion))
        {
            return portion;
        }

        int kind = _random.Next(100);
        if (number == 0 && kind < 12)
        {
            return new RegistryPortion(
                Source, Fleet.Unit(_random.Next(Fleet.Units)), string.Create(CultureInfo.InvariantCulture, $"S/{++_puts}"), 24 + (_puts % 48));
        }

        return kind switch
        {
            < 16 => Rows(1, false, false),
            < 20 => new RowsPortion(Source, [_maker.Visit()], false, null),
            < 24 => new RowsPortion(Source, [_maker.Approval()], false, null),
            < 60 => Rows(_random.Next(2, RowsAtMost), false, false),
            < 65 => Rows(_random.Next(2, RowsAtMost), false, true),
            < 92 => Rows(_random.Next(2, RowsAtMost), true, false),
            < 99 => Rows(_random.Next(2, RowsAtMost), true, true),
            _ => Rows(SendsMany && _random.Next(4) == 0 ? ManyRows : 3, false, false),
        };
    }

    private RowsPortion Rows(int count, bool allOrNothing, bool bad) =>
        new(Source, [.. Enumerable.Range(0, count).Select(_ => _maker.Next())], allOrNothing, bad ? _maker.Refused() : null);
}
