using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Cleaning;

/// <summary>Adds up what units came to. The rules of one unit are added one after the other.</summary>
/// <param name="code">Code of the group.</param>
/// <param name="name">Name of the group.</param>
internal sealed class ComplianceSum(string code, string name)
{
    private const double Level = 0.95;
    private static readonly Cause[] Causes = Enum.GetValues<Cause>();

    private readonly long[] _ticksByCause = new long[Causes.Length];
    private readonly List<(int Unit, UnitShare Share)> _units = [];
    private Duration _notYetThere;
    private UnitTerms? _last;
    private UnitGap _ofLast;
    private UnitGap _longest;

    /// <summary>Name of the group; where its rules were worded otherwise over time, the last.</summary>
    public string Name { get; set; } = name;

    /// <summary>Due washes and those kept of each unit, by the unit's number.</summary>
    public IReadOnlyList<(int Unit, UnitShare Share)> Units => _units;

    /// <summary>Washes left out because the unit was silent at the deadline.</summary>
    public int Unknown { get; private set; }

    /// <summary>Washes left out because the unit was out of service when they fell due.</summary>
    public int Excused { get; private set; }

    /// <summary>Adds one rule of a unit.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="tally">What it came to under the rule.</param>
    /// <param name="withoutRule">Time of the window that no rule covers, so far as this rule stands for it.</param>
    /// <param name="window">The window.</param>
    public void Add(UnitTerms unit, CleaningRule rule, CleaningTally tally, Duration withoutRule, Interval window)
    {
        _notYetThere += unit.NotYetThere(rule, window);
        foreach (CauseTime time in tally.ByCause)
        {
            _ticksByCause[(int)time.Cause] += time.Cause == Cause.NoRule ? 0 : time.Ticks;
        }

        _ticksByCause[(int)Cause.NoRule] += withoutRule.BclCompatibleTicks;
        var share = new UnitShare(tally.Due, tally.OnTime);
        if (ReferenceEquals(unit, _last))
        {
            UnitShare before = _units[^1].Share;
            _units[^1] = (unit.Unit.Id, new UnitShare(before.Due + share.Due, before.Kept + share.Kept));
        }
        else
        {
            _units.Add((unit.Unit.Id, share));
            _last = unit;
            _longest = UnitGap.Longer(_longest, _ofLast);
            _ofLast = default;
        }

        Unknown += tally.Unknown;
        Excused += tally.Excused;
        _ofLast = UnitGap.OfOneUnit(_ofLast, new UnitGap(unit, rule.Grade == ProgrammeGrade.Descale, tally.LongestGap.Elapsed));
    }

    /// <summary>The sum.</summary>
    public ComplianceRow ToRow()
    {
        long judged = Causes.Where(cause => cause.IsJudged()).Sum(cause => _ticksByCause[(int)cause]);
        Dictionary<Cause, double> hours = Causes.Where(cause => _ticksByCause[(int)cause] > 0)
            .ToDictionary(cause => cause, cause => Duration.FromTicks(_ticksByCause[(int)cause]).TotalHours);
        UnitGap longest = UnitGap.Longer(_longest, _ofLast);
        return new ComplianceRow(
            code,
            Name,
            _units.Count,
            _units.Sum(unit => unit.Share.Due),
            _units.Sum(unit => unit.Share.Kept),
            ClusteredShare.Of(_units.Select(unit => unit.Share), Level).Share,
            judged == 0 ? null : (double)_ticksByCause[(int)Cause.InOrder] / judged,
            longest.Unit is null ? null : longest.Elapsed.TotalHours,
            longest.Unit?.Unit.Resource.Unit,
            hours,
            hours.Values.Sum())
        {
            NotYetThereHours = _notYetThere.TotalHours,
        };
    }

    /// <summary>A unit's longest time without a wash that counts; no unit: nothing is known yet.</summary>
    private readonly record struct UnitGap(UnitTerms? Unit, bool IsOfDescaling, Duration Elapsed)
    {
        // Descaling comes once in weeks, and says nothing of how long an oven went unwashed.
        public static UnitGap Longer(UnitGap one, UnitGap other) =>
            Preferred(one, other) ?? (other.Elapsed > one.Elapsed ? other : one);

        // A wash that counts for a demanding rule counts for a milder one too: the milder one tells how long there was none at all.
        public static UnitGap OfOneUnit(UnitGap one, UnitGap other) =>
            Preferred(one, other) ?? (other.Elapsed < one.Elapsed ? other : one);

        private static UnitGap? Preferred(UnitGap one, UnitGap other) =>
            one.Unit is null ? other
            : other.Unit is null ? one
            : one.IsOfDescaling == other.IsOfDescaling ? null
            : one.IsOfDescaling ? other : one;
    }
}
