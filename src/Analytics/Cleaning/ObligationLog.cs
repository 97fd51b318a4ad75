using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Keeps every judgement and the wash that later closed it.</summary>
internal sealed class ObligationLog : IObligationLog
{
    private readonly List<Obligation> _all = [];
    private int _firstUnclosed;

    public IReadOnlyList<Obligation> All => _all;

    public void Kept(DueWash wash, Instant washEnd) => Add(wash, ObligationResult.OnTime, washEnd);

    public void NotKept(DueWash wash, bool unknown) => Add(wash, unknown ? ObligationResult.Unknown : ObligationResult.Missed, null);

    public void ClosedLate(Instant washEnd)
    {
        for (; _firstUnclosed < _all.Count; _firstUnclosed++)
        {
            Obligation open = _all[_firstUnclosed];
            ObligationResult result = open.Result == ObligationResult.Missed ? ObligationResult.Late : open.Result;
            _all[_firstUnclosed] = open with { Result = result, ClosedAt = open.ClosedAt ?? washEnd };
        }
    }

    private void Add(DueWash wash, ObligationResult result, Instant? credited) =>
        _all.Add(new Obligation(wash.Day, wash.Start, wash.Due, wash.Deadline, result, credited, credited));
}
