using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text.Json;
using NodaTime.TimeZones;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;

namespace Washwear.Api.Registry;

/// <summary>Tells apart the terms by which a unit's cleaning is judged, so that what was derived with others is found.</summary>
internal static class TermsFingerprint
{
    // To be raised when the judgement itself changes, so that everything is derived anew at the next start.
    private const int JudgementVersion = 1;

    private static readonly string Zones = TzdbDateTimeZoneSource.Default.VersionId;

    /// <summary>The fingerprint: 64 bits of the SHA-256 of everything that the judgement looks at.</summary>
    /// <param name="unit">The unit.</param>
    public static long Of(UnitTerms unit)
    {
        SiteResource site = unit.Unit.Site.Resource;
        var looked = new
        {
            JudgementVersion,
            Zones,
            PeriodLength = UnitCleaningRun.PeriodLength.TotalHours,
            site.TimeZone,
            site.TradingDays,
            site.Closures,
            unit.Unit.Resource.ReportingHours,
            unit.Unit.Resource.CommissionedOn,
            unit.Unit.Resource.DecommissionedOn,
            unit.Unit.Resource.OutOfService,
            Rules = unit.Rules.Select(rule => Word(rule.Rule)),
        };
        return BinaryPrimitives.ReadInt64LittleEndian(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(looked, Json.Options)));
    }

    private static string Word(CleaningRule rule)
    {
        string basis = rule.Basis switch
        {
            EveryTradingDays days => FormattableString.Invariant($"days {days.Days}"),
            EveryHours hours => FormattableString.Invariant($"ticks {hours.Interval.BclCompatibleTicks}"),
            EveryWashes washes => FormattableString.Invariant($"washes {washes.Washes}"),
            EveryOperatingHours hours => FormattableString.Invariant($"operating hours {hours.Hours:R}"),
            _ => throw new ArgumentOutOfRangeException(nameof(rule), rule.Basis, "Not a basis."),
        };
        return FormattableString.Invariant($"{rule.Code}|{rule.Grade}|{basis}|{rule.Grace.BclCompatibleTicks}|{rule.ValidFrom:R}|{rule.ValidTo:R}");
    }
}
