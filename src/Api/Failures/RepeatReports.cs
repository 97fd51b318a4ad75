using System.Globalization;
using Washwear.Analytics.PartLife;
using Washwear.Analytics.Repeats;
using Washwear.Api.Http;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Failures;

/// <summary>Assembles what came back after a repair.</summary>
internal static class RepeatReports
{
    private const double EarlyShare = 0.05;
    private const int MostPlaces = 50;

    /// <summary>The repeats.</summary>
    /// <param name="parts">Failed parts.</param>
    /// <param name="source">What they were read from.</param>
    /// <param name="worn">Units and batches that fail more than expected.</param>
    /// <param name="page">The page of repeats asked for.</param>
    public static RepeatFindings Of(FailureView parts, FailureSource source, WornPlaces worn, PageRequest page)
    {
        FailureNumbers numbers = worn.Numbers;
        FailureChoice choice = parts.Choice;
        var repairs = new List<(RepairDone Done, FleetLife Fitted)>();
        var failures = new List<(FailureSeen Seen, Failure Failure)>();
        foreach (WatchedUnit unit in parts.Units)
        {
            Add(unit, parts, source, numbers, repairs, failures);
        }

        RepeatResult found = RepeatFailures.Find(
            [.. repairs.Select(repair => repair.Done)],
            [.. failures.Select(failure => failure.Seen)],
            Model(repairs, source, numbers, worn),
            new RepeatOptions(WindowDays: choice.WindowDays, FalseDiscoveryRate: WornPlaces.FalseDiscoveryRate));
        var names = new RepeatNames(parts, numbers);
        Seen[] seen =
        [
            .. found.Repeats.Select(repeat => new Seen(repeat, repairs[repeat.Repair].Done, repairs[repeat.Repair].Fitted, failures[repeat.Failure].Failure))
                .Where(one => FailureView.Names(choice.Position, one.Fitted.Position) && FailureView.Names(choice.Code, one.Code ?? string.Empty))
                .OrderBy(one => one.Key, StringComparer.Ordinal),
        ];

        // Of thousands of repeats a page is put into words.
        PageOf<Seen> shown = Paging.TakeSorted(seen, one => one.Key, page);
        RepeatPosition[] positions = [.. found.Groups.Select(group => names.Group(group)).Where(row => Asked(choice, row)).OrderByDescending(row => row.CameBack)];
        RepeatPlace[] places = [.. Places(worn, parts, choice)];
        RepeatBatch[] batches = [.. Batches(worn, parts, choice)];
        return new RepeatFindings(
            new RepeatsReport(
                new Basis(
                    parts.AsOf, choice.From, choice.To, RepeatSentences.Method, "days",
                    repairs.Count, seen.Length, Excluded(parts, worn), Remarks.Told(found.Doubts)),
                RepeatSentences.Of(repairs.Count, seen.Length, choice.WindowDays, places, batches),
                choice.WindowDays,
                WornPlaces.FalseDiscoveryRate,
                positions,
                places,
                batches,
                [.. shown.Items.Select(one => Row(one, found, names))],
                shown.Next),
            [.. WrongCauses(found, repairs, names)]);
    }

    private static void Add(
        WatchedUnit unit, FailureView parts, FailureSource source, FailureNumbers numbers,
        List<(RepairDone Done, FleetLife Fitted)> repairs, List<(FailureSeen Seen, Failure Failure)> failures)
    {
        int id = unit.Terms.Unit.Id;

        // What failed before the window cannot come back after a repair in it.
        Failure[] episodes = Array.FindAll(
            parts.Episodes[id], episode => unit.At(episode.AtMs) && episode.AtMs >= parts.FromMs && episode.AtMs < parts.ToMs);
        var answered = new HashSet<Failure>(ReferenceEqualityComparer.Instance);
        FleetLife[] lives = [.. source.Wear.ByUnit[id]];
        foreach (FleetLife life in lives.Where(life => life.Failed))
        {
            long at = life.EndedAt!.Value.ToUnixTimeMilliseconds();
            if (!unit.At(at) || at < parts.FromMs || at >= parts.ToMs)
            {
                continue;
            }

            Failure? trouble = LostTimes.During(episodes, at);
            int? code = trouble is null ? null : numbers.Code(trouble.What);
            int position = numbers.Position(life.Position);
            if (trouble is not null)
            {
                answered.Add(trouble);
            }

            failures.Add((
                new FailureSeen(id, trouble?.AtMs ?? at, position, code),
                trouble ?? new Failure(FailureKind.Parts, unit, at, life.Position, FailureNames.Position(unit.Terms.Unit, life.Position))));
            FleetLife? next = Array.Find(
                lives, other => other.Ordinal == life.Ordinal + 1 && string.Equals(other.Position, life.Position, StringComparison.OrdinalIgnoreCase));
            if (next is not null)
            {
                long? left = next.EndedAt is { } ended && !next.Failed ? ended.ToUnixTimeMilliseconds() : null;
                int? batch = next.Batch is null ? null : numbers.Batch(next.Batch);
                repairs.Add((new RepairDone(id, position, at, Math.Min(unit.ToMs, parts.ToMs), left, code, batch), next));
            }
        }

        failures.AddRange(episodes.Where(episode => !answered.Contains(episode))
            .Select(episode => (new FailureSeen(id, episode.AtMs, null, numbers.Code(episode.What)), episode)));
    }

    private static RepeatModel Model(
        List<(RepairDone Done, FleetLife Fitted)> repairs, FailureSource source, FailureNumbers numbers, WornPlaces worn)
    {
        IReadOnlyList<string> positions = numbers.Positions;
        Weibull?[] curves = [.. positions.Select(source.Wear.Models.Curve)];
        var entries = new Dictionary<(int, int, long), double>(repairs.Count);
        foreach ((RepairDone done, FleetLife fitted) in repairs)
        {
            _ = entries.TryAdd((done.Unit, done.Position, done.AtMs), fitted.Ages.Days?.Entry ?? 0);
        }

        return new RepeatModel(
            (repair, days) => curves[repair.Position]?.ConditionalFailureProbability(entries[(repair.Unit, repair.Position, repair.AtMs)], days),
            repair => curves[repair.Position]?.AgeWhenFailed(EarlyShare),
            [.. worn.Units.Select(place => place.Excess)],
            [.. worn.Batches.Select(place => place.Excess)]);
    }

    private static RepeatRow Row(Seen seen, RepeatResult found, RepeatNames names)
    {
        (Repeat repeat, RepairDone done, FleetLife fitted, _) = seen;
        UnitEntry unit = seen.Unit;
        string name = FailureNames.Position(unit, fitted.Position);
        DateTimeOffset repairedAt = DateTimeOffset.FromUnixTimeMilliseconds(done.AtMs);
        return new RepeatRow(
            unit.Resource.Unit,
            unit.Site.Resource.Site,
            unit.Site.Resource.Name,
            unit.Site.Resource.TimeZone,
            fitted.Position,
            seen.Code,
            name,
            repairedAt,
            repairedAt.AddDays(repeat.Days),
            repeat.Days,
            fitted.PartNumber,
            fitted.Batch,
            repeat.Kind,
            RepeatSentences.Evidence(repeat, name, fitted.Batch, names.Code(done.Code), found.Options));
    }

    private static bool Asked(FailureChoice choice, RepeatPosition row) =>
        (row.Position is null ? choice.Position is null : FailureView.Names(choice.Position, row.Position))
        && (row.Code is null ? choice.Code is null : FailureView.Names(choice.Code, row.Code));

    private static IEnumerable<RepeatPlace> Places(WornPlaces worn, FailureView view, FailureChoice choice)
    {
        HashSet<int> asked = [.. view.Units.Select(unit => unit.Terms.Unit.Id)];
        return worn.Units
            .Where(place => place.Excess is { Failures: > 0, Expected: > 0, PValue: not null } && asked.Contains(place.Excess.Group))
            .Where(place => FailureView.Names(choice.Position, place.Lives[0].Position))
            .OrderBy(place => place.Excess.AdjustedPValue)
            .ThenBy(place => place.Excess.PValue)
            .Take(MostPlaces)
            .Select(place =>
            {
                UnitEntry unit = place.Lives[0].Unit;
                return new RepeatPlace(
                    unit.Resource.Unit, unit.Site.Resource.Site, unit.Site.Resource.Name, place.Lives[0].Position,
                    FailureNames.Position(unit, place.Lives[0].Position), place.Excess.Failures, place.Excess.Expected, place.Excess.Ratio!,
                    place.Excess.PValue!.Value, place.Excess.AdjustedPValue!.Value, place.Excess.Called);
            });
    }

    private static IEnumerable<RepeatBatch> Batches(WornPlaces worn, FailureView view, FailureChoice choice)
    {
        // A batch is tested over the whole fleet; it is shown where a unit that is asked for has a part of it.
        HashSet<int> asked = [.. view.Units.Select(unit => unit.Terms.Unit.Id)];
        return worn.Batches
            .Where(place => place.Excess is { Failures: > 0, Expected: > 0, AdjustedPValue: not null })
            .Where(place => place.Lives.Any(life => asked.Contains(life.Unit.Id)))
            .Where(place => FailureView.Names(choice.Position, place.Lives[0].Position))
            .OrderBy(place => place.Excess.AdjustedPValue)
            .ThenBy(place => place.Excess.PValue)
            .Take(MostPlaces)
            .Select(place =>
            {
                FleetLife first = place.Lives[0];
                string?[] numbers = [.. place.Lives.Select(life => life.PartNumber).Distinct(StringComparer.OrdinalIgnoreCase)];
                return new RepeatBatch(
                    first.Position, FailureNames.Position(first.Unit, first.Position), first.Batch!, numbers.Length == 1 ? numbers[0] : null,
                    place.Lives.Count, place.Lives.Count(life => life.StillFitted), place.Excess.Failures, place.Excess.Expected, place.Excess.Ratio!,
                    place.Excess.AdjustedPValue!.Value, place.Excess.Called);
            });
    }

    private static IEnumerable<WrongCauses> WrongCauses(
        RepeatResult found, List<(RepairDone Done, FleetLife Fitted)> repairs, RepeatNames names) => found.Repeats
        .Where(repeat => repeat.Kind == RepeatKind.WrongCauseFound && repairs[repeat.Repair].Done.Code is not null)
        .CountBy(repeat => repairs[repeat.Repair].Done.Code!.Value)
        .Select(pair => new WrongCauses(
            names.Code(pair.Key)!, names.Fault(pair.Key), pair.Value, repairs.Count(repair => repair.Done.Code == pair.Key)));

    private static Dictionary<string, int> Excluded(FailureView parts, WornPlaces worn)
    {
        var excluded = new Dictionary<string, int>(parts.Excluded);
        if (worn.WithoutModel.Count > 0)
        {
            excluded.Add("position without a life model, not searched for units and batches", worn.WithoutModel.Count);
        }

        return excluded;
    }

    /// <summary>A repeat with its repair, the part that was fitted in it, and the failure.</summary>
    private sealed record Seen(Repeat Repeat, RepairDone Done, FleetLife Fitted, Failure Failure)
    {
        public UnitEntry Unit => Failure.Unit.Terms.Unit;

        public string? Code => Failure.Kind == FailureKind.Faults ? Failure.What : null;

        /// <summary>Sort key: the latest failure first, then by unit, position and repair.</summary>
        public string Key => field ??= (long.MaxValue - FailedAgainAt.ToUnixTimeMilliseconds()).ToString("D19", CultureInfo.InvariantCulture)
            + Codes.Key(Unit.Resource.Unit) + "\u001f" + Fitted.Position + "\u001f" + Done.AtMs.ToString("D19", CultureInfo.InvariantCulture);

        private DateTimeOffset FailedAgainAt => DateTimeOffset.FromUnixTimeMilliseconds(Done.AtMs).AddDays(Repeat.Days);
    }
}

/// <summary>What came back, and what the decisions need of it besides.</summary>
/// <param name="Report">The report.</param>
/// <param name="WrongCauses">Fault codes after whose repair something else was the cause.</param>
internal sealed record RepeatFindings(RepeatsReport Report, IReadOnlyList<WrongCauses> WrongCauses);
