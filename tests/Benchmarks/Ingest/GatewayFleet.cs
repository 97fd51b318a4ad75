using System.Buffers;
using System.Buffers.Text;
using System.Globalization;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;

namespace Washwear.Benchmarks.Ingest;

/// <summary>
/// An invented fleet of 10,000 units in 2,000 kitchens whose gateways report in the order of time, cheaply written as NDJSON. A day of a unit:
/// a heartbeat every six hours, a meter reading, the night wash (one in six weekly; 3 in 100 stopped), every other unit a short wash in the
/// afternoon, and in 100 days three faults that are cleared hours later. Keys are a unit's own counter, as gateways make them: U-0042-00001733.
/// A fleet is cut in halves by kitchens, so that two senders can each keep the order of time. Not safe for concurrent use.
/// </summary>
internal sealed class GatewayFleet
{
    /// <summary>Units of the fleet.</summary>
    public const int Units = 10_000;

    private const int UnitsPerSite = 5;
    private const int Senders = 2;
    private const long Minute = 60_000;
    private const int LongestRow = 256;
    private readonly DateTimeOffset _begin;
    private readonly int _half;
    private readonly int[] _keys = new int[Units];
    private readonly Random _random;
    private long[] _day = [];
    private int _next;
    private int _days;

    /// <summary>Begins.</summary>
    /// <param name="half">Which half of the units: 0 or 1.</param>
    /// <param name="begin">Midnight of the first day, UTC.</param>
    public GatewayFleet(int half, DateTimeOffset begin) => (_half, _begin, _random) = (half, begin, new Random(half + 1));

    private enum Kind : byte
    {
        Heartbeat,
        Meter,
        Night,
        Afternoon,
        Fault,
        Cleared,
    }

    /// <summary>Records that the whole fleet makes in a day, on average.</summary>
    public static double RowsPerDay => Units * (4 + 1 + 1 + 0.5 + 0.06);

    /// <summary>Asset tag of a unit.</summary>
    /// <param name="unit">Its number, from 0.</param>
    public static string Code(int unit) => string.Create(CultureInfo.InvariantCulture, $"U-{unit:D4}");

    /// <summary>Who and what there is.</summary>
    public RegistryDocument Registry() => new(
        [.. Enumerable.Range(0, 20).Select(o => new OperatorResource($"OP-{o}", $"Operator {o} (invented)"))],
        [
            .. Enumerable.Range(0, Units / UnitsPerSite).Select(s => new SiteResource(
                $"SITE-{s}", $"OP-{s % 20}", $"Kitchen {s} (invented)", (s % 3) switch { 0 => "Europe/Vienna", 1 => "America/Chicago", _ => "Asia/Tokyo" },
                $"region {s % 7}", TradingDays: new TradingDaysResource(["mon", "tue", "wed", "thu", "fri", "sat"], "02:00"))),
        ],
        [
            new ModelResource(
                "M", "Oven (invented)", "combi oven",
                [new PositionResource("pump", "Wash pump"), new PositionResource("hose", "Hose")],
                [
                    new ProgrammeResource("daily", ProgrammeGrade.Standard), new ProgrammeResource("weekly", ProgrammeGrade.Intensive),
                    new ProgrammeResource("rinse", ProgrammeGrade.Rinse),
                ],
                [new FaultResource("F1", "No water circulates", LocksOutWashing: true), new FaultResource("F2", "Door left open", LocksOutWashing: false)]),
        ],
        [.. Enumerable.Range(0, Units).Select(u => new UnitResource(Code(u), $"SITE-{u / UnitsPerSite}", "M", null, DateOnly.FromDateTime(_begin.UtcDateTime)))],
        [
            new RuleResource("daily", new RuleScopeResource(), ProgrammeGrade.Standard, 1, null, 4, "invented"),
            new RuleResource("weekly", new RuleScopeResource(), ProgrammeGrade.Intensive, 6, null, 24, "invented"),
        ]);

    /// <summary>The next rows of this half.</summary>
    /// <param name="rows">How many.</param>
    /// <returns>NDJSON.</returns>
    public byte[] Next(int rows)
    {
        var text = new ArrayBufferWriter<byte>(rows * 170);
        for (int row = 0; row < rows; row++)
        {
            while (_next == _day.Length)
            {
                _day = DayOf(_days++);
                _next = 0;
            }

            text.Advance(Write(text.GetSpan(LongestRow), _day[_next++]));
        }

        return text.WrittenSpan.ToArray();
    }

    // An event is its minute of the day, unit and kind in one number, so that sorting puts a day in order.
    private long[] DayOf(int day)
    {
        var events = new List<long>();
        for (int unit = 0; unit < Units; unit++)
        {
            if (unit / UnitsPerSite % Senders != _half)
            {
                continue;
            }

            for (int hour = 0; hour < 24; hour += 6)
            {
                events.Add(Event((hour * 60) + (unit * 7 % 360), unit, Kind.Heartbeat));
            }

            events.Add(Event((2 * 60) + (unit % 60), unit, Kind.Meter));
            events.Add(Event((20 * 60) + _random.Next(140), unit, Kind.Night));
            if (unit % 2 == 0)
            {
                events.Add(Event((13 * 60) + _random.Next(120), unit, Kind.Afternoon));
            }

            if ((unit + day) % 100 is 0 or 33 or 71)
            {
                int raised = 8 * 60;
                events.Add(Event(raised + _random.Next(60), unit, Kind.Fault));
                events.Add(Event(raised + 120 + _random.Next(180), unit, Kind.Cleared));
            }
        }

        events.Sort();
        return [.. events];
    }

    private static long Event(int minute, int unit, Kind kind) => ((long)minute << 32) | ((long)unit << 8) | (byte)kind;

    private int Write(Span<byte> row, long happened)
    {
        var kind = (Kind)(happened & 0xFF);
        int unit = (int)((happened >> 8) & 0xFFFFFF);
        DateTimeOffset at = _begin.AddDays(_days - 1).AddMilliseconds((happened >> 32) * Minute);
        int length = Copy(row, 0, "{\"type\":\""u8);
        length += Copy(row, length, TypeOf(kind));
        length += Copy(row, length, "\",\"unit\":\"U-"u8);
        length += Digits(row, length, unit, 4);
        length += Copy(row, length, "\",\"key\":\"U-"u8);
        length += Digits(row, length, unit, 4);
        length += Copy(row, length, "-"u8);
        length += Digits(row, length, ++_keys[unit], 8);
        length += Copy(row, length, "\",\"at\":\""u8);
        length += At(row, length, at);
        length += Copy(row, length, "\""u8);
        length += Details(row[length..], kind, unit, at);
        return length + Copy(row, length, "}\n"u8);
    }

    private int Details(Span<byte> row, Kind kind, int unit, DateTimeOffset at)
    {
        switch (kind)
        {
            case Kind.Meter:
                int length = Copy(row, 0, ",\"washes_total\":"u8);
                length += Digits(row, length, 1000 + _days, 1);
                length += Copy(row, length, ",\"operating_hours_total\":"u8);
                return length + Digits(row, length, 5000 + (_days * 9), 1);
            case Kind.Night or Kind.Afternoon:
                return Wash(row, kind, unit, at);
            case Kind.Fault or Kind.Cleared:
                return Copy(row, 0, unit % 3 == 0 ? ",\"code\":\"F1\""u8 : ",\"code\":\"F2\""u8);
            default:
                return 0;
        }
    }

    private int Wash(Span<byte> row, Kind kind, int unit, DateTimeOffset at)
    {
        bool weekly = kind == Kind.Night && (_days + unit) % 6 == 0;
        bool stopped = _random.Next(100) < 3;
        int minutes = stopped ? 10 : kind == Kind.Afternoon ? 15 + _random.Next(3) : (weekly ? 120 : 80) + _random.Next(12);
        int length = Copy(row, 0, ",\"ended_at\":\""u8);
        length += At(row, length, at.AddMinutes(minutes).AddSeconds(_random.Next(60)));
        length += Copy(row, length, kind == Kind.Afternoon ? "\",\"programme\":\"rinse\""u8 : weekly ? "\",\"programme\":\"weekly\""u8 : "\",\"programme\":\"daily\""u8);
        return length + Copy(row, length, stopped ? ",\"outcome\":\"stopped_by_person\""u8 : ",\"outcome\":\"completed\",\"detergent_left\":false"u8);
    }

    private static ReadOnlySpan<byte> TypeOf(Kind kind) => kind switch
    {
        Kind.Heartbeat => "heartbeat"u8,
        Kind.Meter => "meter"u8,
        Kind.Fault => "fault"u8,
        Kind.Cleared => "fault_cleared"u8,
        _ => "wash"u8,
    };

    private static int Copy(Span<byte> row, int place, ReadOnlySpan<byte> text)
    {
        text.CopyTo(row[place..]);
        return text.Length;
    }

    private static int Digits(Span<byte> row, int place, int number, byte digits)
    {
        Utf8Formatter.TryFormat(number, row[place..], out int written, new StandardFormat('D', digits));
        return written;
    }

    private static int At(Span<byte> row, int place, DateTimeOffset at)
    {
        at.TryFormat(row[place..], out int written, "yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
        return written;
    }
}
