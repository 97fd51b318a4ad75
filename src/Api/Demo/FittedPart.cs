using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>A part while it is fitted. It renews when another takes its place.</summary>
/// <param name="life">Age at which it fails, on its own clock.</param>
/// <param name="weakWashes">For how many washes before that it is weak.</param>
internal sealed class FittedPart(
    string position, NewPart part, PartWear wear, DateTimeOffset fittedAt, double life, FailureWay way, double weakWashes)
{
    private double _washes = part.AgeWashes ?? 0;
    private DateTimeOffset? _failedInWash;
    private double _washesAtFailure;

    internal string Position => position;

    internal NewPart Part => part;

    internal PartWear Wear => wear;

    internal DateTimeOffset FittedAt { get; } = fittedAt;

    internal FailureWay Way => way;

    internal bool StartReported { get; set; }

    internal double EntryDays { get; private set; } = part.AgeDays ?? 0;

    internal double EntryWashes { get; private set; } = part.AgeWashes ?? 0;

    internal double AgeWashes => _washes;

    /// <summary>Age in washes at its failure, or now.</summary>
    internal double LifeWashes => _failedInWash is null ? _washes : _washesAtFailure;

    internal DateTimeOffset LastSeenGoodAt { get; set; } = fittedAt;

    /// <summary>First wash in which it was weak; null: none yet, or it does not weaken visibly.</summary>
    internal DateTimeOffset? WeakAt { get; private set; }

    /// <summary>How it looked when it was last graded; null: nobody graded it.</summary>
    internal ConditionGrade? Looked { get; set; }

    /// <summary>Its true wear: age as a share of the life that it will have had, on its own clock; 1 and more when it has failed.</summary>
    internal double Worn(DateTimeOffset at) => (wear.Clock == WearClock.Washes ? _washes : AgeDays(at)) / life;

    internal double AgeDays(DateTimeOffset at) => (part.AgeDays ?? 0) + (at - FittedAt).TotalDays;

    /// <summary>When it failed, if it did so by an instant.</summary>
    internal DateTimeOffset? FailedBy(DateTimeOffset at)
    {
        if (wear.Clock == WearClock.Washes)
        {
            return _failedInWash <= at ? _failedInWash : null;
        }

        double days = life - (part.AgeDays ?? 0);
        return (at - FittedAt).TotalDays >= days ? FittedAt.AddDays(days) : null;
    }

    internal void RunOneWash(DateTimeOffset at)
    {
        WeakAt ??= Weakness() > 0 ? at : null;
        _washes++;
        if (wear.Clock == WearClock.Washes && _failedInWash is null && _washes >= life)
        {
            _failedInWash = at;
            _washesAtFailure = _washes;
        }
    }

    /// <summary>From now on it is under observation.</summary>
    internal void RecordsBegin(DateTimeOffset at)
    {
        EntryDays = AgeDays(at);
        EntryWashes = _washes;
    }

    /// <summary>How far it has weakened before its failure, 0 to 1; only parts that wear by washing do so visibly.</summary>
    internal double Weakness() => wear.Clock == WearClock.Washes ? Math.Clamp(1 - ((life - _washes) / weakWashes), 0, 1) : 0;
}
