using System.Globalization;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Operators;

namespace Washwear.Api.Operators;

/// <summary>An operator's kitchens by what needs somebody.</summary>
internal static class KitchenRows
{
    private const int NeedsNobody = 6;

    /// <summary>The kitchens, those with the longest wait first.</summary>
    /// <param name="sites">The operator's sites.</param>
    /// <param name="rows">How their units stand.</param>
    /// <param name="asOf">The instant.</param>
    public static OperatorKitchen[] Of(IEnumerable<SiteEntry> sites, IEnumerable<UnitCleaning> rows, DateTimeOffset asOf)
    {
        ILookup<string, UnitCleaning> bySite = rows.ToLookup(row => row.Site, StringComparer.OrdinalIgnoreCase);
        return
        [
            .. sites.Select(site => Row(site, bySite[site.Resource.Site], asOf)).Where(row => row.Units > 0)
                .Select(row => (row, Key: Key(row, asOf))).OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => pair.row),
        ];
    }

    /// <summary>Sort key of a kitchen: past a deadline of a wash first, the longest first; then those that cannot wash, are past one of descaling, are silent, are due; the rest by name.</summary>
    /// <param name="row">The kitchen.</param>
    /// <param name="asOf">The instant.</param>
    public static string Key(OperatorKitchen row, DateTimeOffset asOf)
    {
        (int rank, long minute) = row.Worst is { } worst ? RankOf(worst, asOf) : (NeedsNobody, 0);
        return rank == NeedsNobody
            ? string.Create(CultureInfo.InvariantCulture, $"{rank} {row.SiteName.ToUpperInvariant()} {Codes.Key(row.Site)}")
            : string.Create(CultureInfo.InvariantCulture, $"{rank} {minute:D12} {Codes.Key(row.Site)}");
    }

    private static OperatorKitchen Row(SiteEntry site, IEnumerable<UnitCleaning> rows, DateTimeOffset asOf)
    {
        UnitCleaning[] all = [.. rows];
        Dictionary<CleaningState, int> states = CleaningReports.CountByState(all);
        UnitCleaning? worst = all.OrderBy(row => RankOf(row, asOf)).ThenBy(row => row.Unit, StringComparer.OrdinalIgnoreCase)
            .ThenBy(row => row.Grade == ProgrammeGrade.Descale).FirstOrDefault();
        return new OperatorKitchen(
            site.Resource.Site,
            site.Resource.Name,
            site.Resource.Region,
            states.Values.Sum(),
            OperatorSentences.Waiting(states),
            states,
            worst,
            worst is null ? null : CleaningSteps.Next(worst)?.Words);
    }

    // The order of the cleaning page, by whole minutes: what is past a deadline is told from the hours past it.
    private static (int Rank, long Minute) RankOf(UnitCleaning row, DateTimeOffset asOf)
    {
        static long Minute(DateTimeOffset? at) => at is { } known ? Math.Max(0, known.ToUnixTimeSeconds() / 60) : 0;
        static long LateSince(UnitCleaning row, DateTimeOffset asOf) => Minute(asOf.AddHours(-row.OverdueHours).AddSeconds(30));
        return row.State switch
        {
            CleaningState.Overdue or CleaningState.LockedOut when row.OverdueHours > 0 && row.Grade != ProgrammeGrade.Descale => (0, LateSince(row, asOf)),
            CleaningState.LockedOut when !row.HasWashedSince => (1, Minute(row.Since)),
            CleaningState.Overdue or CleaningState.LockedOut when row.OverdueHours > 0 => (2, LateSince(row, asOf)),
            CleaningState.Silent => (3, Minute(row.Since)),
            CleaningState.LockedOut => (4, Minute(row.Since)),
            CleaningState.Due or CleaningState.Overdue => (5, Minute(row.DueAt)),
            _ => (NeedsNobody, 0),
        };
    }
}
