using Washwear.Dashboard.Timeline;

namespace Washwear.Dashboard.Tests.Timeline;

/// <summary>Timelines full, empty and hostile.</summary>
public static class TimelineSamples
{
    public static TimelineReport Unit { get; } = new(
        Samples.Basis("records as they were taken in", 14), TimelineSubject.Unit, "OV-1003", "OV-1003", Samples.Zone,
        "14 records from 12 May 2025 to 3 Jun 2025; more further back.", TimelineWords.Usual(TimelineSubject.Unit),
        [
            new(new DateOnly(2025, 6, 3),
            [
                new(TimelineKind.Faults, Samples.AsOf.AddDays(-3), Samples.AsOf, "OV-1003", "S3", "Fennel Street Clinic",
                    "Could not wash for 3 days so far: E-41, drain valve does not close. 1 visit.", true,
                    [Step(1, TimelineKind.Faults, "fault", "Fault E-41 raised."), Step(2, TimelineKind.Visits, "visit", "Visit by tech 4: left to wait for a part.")]),
                new(TimelineKind.Parts, Samples.AsOf.AddHours(-5), Samples.AsOf.AddHours(-5), "OV-1003", "S3", "Fennel Street Clinic", "Wash pump: new part in.", false,
                    [Step(3, TimelineKind.Parts, "part_change", "Wash pump: new part in.") with { Correction = "Corrects an earlier record." }]),
            ]),
            new(new DateOnly(2025, 5, 30),
            [
                new(TimelineKind.Washes, Samples.AsOf.AddDays(-14), Samples.AsOf.AddDays(-4), "OV-1003", "S3", "Fennel Street Clinic", "11 washes, all counted.", false,
                    [.. Enumerable.Range(10, 11).Select(i => Step(i, TimelineKind.Washes, "wash", "Night wash completed after 1 h."))]),
                new(TimelineKind.Washes, Samples.AsOf.AddDays(-15), Samples.AsOf.AddDays(-15), "OV-1003", "S3", "Fennel Street Clinic", "Voided. Wash.", false,
                    [Step(30, TimelineKind.Washes, "wash", "Wash completed.") with { Voided = true, Correction = "Voided." }]),
            ]),
        ],
        null, "cursor-2");

    public static TimelineReport Operator { get; } = Unit with
    {
        Subject = TimelineSubject.Operator,
        Code = "OP0",
        Name = "Quillmere Kitchens",
        Kinds = [TimelineKind.Faults],
        After = "cursor-1",
    };

    public static TimelineReport Empty { get; } = Unit with { Days = [], Sentence = "Nothing of this kind is on record.", Next = null };

    public static TimelineReport Hostile { get; } = new(
        Tests.Hostile.EmptyBasis, TimelineSubject.Site, Tests.Hostile.Name, Tests.Hostile.LongName, "No/Such_Zone", Tests.Hostile.Name, [],
        [
            new(DateOnly.MaxValue,
            [
                new(TimelineKind.Washes, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, null, null, null, Tests.Hostile.Name, false, [Bad(1), Bad(2)]),
                new(TimelineKind.Faults, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.LongName, Tests.Hostile.Name, true, [Bad(3), Bad(4)]),
                new(TimelineKind.Corrections, DateTimeOffset.MaxValue, DateTimeOffset.MaxValue, Tests.Hostile.Name, null, null, Tests.Hostile.Name, false, [Bad(5) with { Voided = true }]),
            ]),
        ],
        Tests.Hostile.Name, Tests.Hostile.Name);

    private static TimelineStep Step(long seq, TimelineKind kind, string type, string text) => new(
        seq, kind, Samples.AsOf.AddHours(-seq), "OV-1003", type, "gateway-north", "k-" + seq, text, null, false,
        type == "visit" ? "/visits/k-2" : "/v1/records?unit=OV-1003&limit=1&after=MQ");

    private static TimelineStep Bad(long seq) => new(
        seq, TimelineKind.Readings, DateTimeOffset.MinValue, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name,
        Tests.Hostile.Name, false, "/v1/records?unit=x");
}
