using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>How a sign ended.</summary>
public enum SignEnd
{
    /// <summary>A part was changed or a visit ended: the chart began anew.</summary>
    Mended,

    /// <summary>The sum fell to half its limit.</summary>
    Better,

    /// <summary>Durations stayed as they were for so long that they are taken for the unit's way.</summary>
    Usual,
}

/// <summary>
/// One cumulative sum on whole numbers. A sign is called when the sum reaches its limit, where it is held; it ends when the sum has fallen to
/// half the limit, and the sum then begins at 0 again: so the sums between two calls are independent, and a sound unit's calls come at exactly
/// the chart's false-alarm rate.
/// </summary>
/// <param name="Value">The sum, 0 to the limit.</param>
/// <param name="Limit">A sign is called when the sum reaches it; 0: there is no chart yet.</param>
/// <param name="WashesBetweenFalseAlarms">Average number of charted washes between false alarms of a sound unit, exact.</param>
/// <param name="Since">First wash of the present climb from 0; null: the sum is at 0.</param>
/// <param name="CalledAt">Wash at which the standing sign was called; null: none stands.</param>
/// <param name="Washes">Washes of the present climb.</param>
/// <param name="Seen">Of these: bad washes, or their minutes.</param>
/// <param name="Expected">What a sound unit has on average in so many washes.</param>
/// <param name="EndedAt">When the last sign ended; null: there was none.</param>
/// <param name="Ended">How it ended.</param>
public sealed record SignSum(
    int Value,
    int Limit,
    double WashesBetweenFalseAlarms,
    Instant? Since,
    Instant? CalledAt,
    int Washes,
    double Seen,
    double Expected,
    Instant? EndedAt,
    SignEnd? Ended)
{
    /// <summary>Before any wash.</summary>
    public static SignSum Blank { get; } = new(0, 0, 0, null, null, 0, 0, 0, null, null);

    /// <summary>Whether a sign stands.</summary>
    public bool IsCalled => CalledAt is not null;

    /// <summary>Adds a wash.</summary>
    internal SignSum Add(int step, Instant at, double seen, double expected)
    {
        int value = Math.Clamp(Value + step, 0, Limit);
        return value == 0 || (IsCalled && 2 * value <= Limit)
            ? Begin(at, SignEnd.Better)
            : this with
            {
                Value = value,
                Since = Since ?? at,
                CalledAt = CalledAt ?? (value >= Limit ? at : null),
                Washes = Washes + 1,
                Seen = Seen + seen,
                Expected = Expected + expected,
            };
    }

    /// <summary>From 0 again; a sign that stood has ended.</summary>
    internal SignSum Begin(Instant at, SignEnd how) => this with
    {
        Value = 0,
        Since = null,
        CalledAt = null,
        Washes = 0,
        Seen = 0,
        Expected = 0,
        EndedAt = IsCalled ? at : EndedAt,
        Ended = IsCalled ? how : Ended,
    };
}
