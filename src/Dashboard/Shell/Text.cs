using System.Globalization;
using Washwear.Analytics.Numerics;

namespace Washwear.Dashboard.Shell;

/// <summary>Numbers, durations and estimates as a person reads them: one voice for all pages and charts, in the way of the present reader
/// (<see cref="ReaderPreferences.Current"/>). Dates are in Text.Dates.cs, measures in Text.Measures.cs.</summary>
public static partial class Text
{
    /// <summary>What stands where a figure cannot be told.</summary>
    public static string NotKnown => Figures.NotKnown;

    private const int HoursPerDay = 24;
    private const int MinutesPerHour = 60;

    // Digits beyond these say nothing at the sample sizes of this trade.
    private const int SignificantDigits = 3;

    // Below it a p-value's digits say nothing more.
    private const double LeastP = 0.001;

    private static CultureInfo Culture => ReaderPreferences.Current.Format;

    private static FigureTexts Figures => ShellTexts.Now.Figures;

    /// <summary>A length of time in its two largest units, such as '3 days 4 h' or '5 h 20 min'.</summary>
    /// <param name="hours">Hours; negative ones are shown by their size.</param>
    /// <returns>The length in words; 'less than a minute' where it is that short.</returns>
    public static string Duration(double? hours) => Length(hours, ShellTexts.Now.LessThanAMinute, ShellTexts.Now.Days);

    /// <summary>A length of time as it stands after a preposition, such as 'for 3 days 4 h', in German 'seit 3 Tagen 4 h'.</summary>
    /// <param name="hours">Hours; negative ones are shown by their size.</param>
    /// <returns>The length in words.</returns>
    public static string DurationAfter(double? hours) => Length(hours, ShellTexts.Now.LessThanAMinuteAfter, ShellTexts.Now.DaysAfter);

    private static string Length(double? hours, string lessThanAMinute, PluralText days)
    {
        if (hours is null || !double.IsFinite(hours.Value))
        {
            return NotKnown;
        }

        double minutes = Math.Round(Math.Abs(hours.Value) * MinutesPerHour);
        double wholeDays = Math.Floor(minutes / (HoursPerDay * MinutesPerHour));
        double wholeHours = Math.Floor(minutes / MinutesPerHour) - (wholeDays * HoursPerDay);
        double restMinutes = minutes % MinutesPerHour;
        return minutes < 1 ? lessThanAMinute
            : wholeDays >= 1 ? Join(days.For((int)Math.Min(wholeDays, int.MaxValue)), wholeDays < 60 && wholeHours > 0 ? Of(ShellTexts.Now.Hours, wholeHours) : null)
            : wholeHours >= 1 ? Join(Of(ShellTexts.Now.Hours, wholeHours), restMinutes > 0 ? Of(ShellTexts.Now.Minutes, restMinutes) : null)
            : Of(ShellTexts.Now.Minutes, restMinutes);
    }

    /// <summary>How long ago something was, such as '3 days 4 h ago'.</summary>
    /// <param name="at">When it was; null: not known.</param>
    /// <param name="asOf">The instant from which the page looks back.</param>
    /// <returns>The length in words; 'in ...' where it lies ahead.</returns>
    public static string Ago(DateTimeOffset? at, DateTimeOffset asOf)
    {
        if (at is null)
        {
            return NotKnown;
        }

        double hours = (asOf - at.Value).TotalHours;
        ShellTexts words = ShellTexts.Now;
        return Fill.In(hours >= 0 ? words.Ago : words.Ahead, ("time", DurationAfter(hours)));
    }

    /// <summary>A whole number with its thousands set apart, such as '1,240'.</summary>
    /// <param name="count">The number.</param>
    /// <returns>All its digits: a count is never rounded.</returns>
    public static string Count(int count) => count.ToString("N0", Culture);

    /// <summary>A measured number with three significant digits, such as '1,240', '12.3' or '0.0456'.</summary>
    /// <param name="value">The number; null, NaN and infinities are not known.</param>
    /// <returns>The number in words that fit a sentence.</returns>
    public static string Number(double? value)
    {
        if (value is null || !double.IsFinite(value.Value))
        {
            return NotKnown;
        }

        if (value.Value == 0)
        {
            return "0";
        }

        int magnitude = (int)Math.Floor(Math.Log10(Math.Abs(value.Value)));
        if (magnitude is < -6 or > 14)
        {
            return value.Value.ToString("0.##E+0", Culture);
        }

        int decimals = Math.Max(0, SignificantDigits - 1 - magnitude);
        double step = Math.Pow(10, Math.Max(0, magnitude - SignificantDigits + 1));
        return (Math.Round(value.Value / step) * step is var rounded && decimals == 0 ? rounded : value.Value)
            .ToString("N" + decimals.ToString(CultureInfo.InvariantCulture), Culture);
    }

    /// <summary>A round number beside an axis, such as '1,500' or '0.5'.</summary>
    /// <param name="value">The number; ticks stand at round ones.</param>
    /// <returns>Its digits without trailing zeros.</returns>
    public static string Tick(double value) => value.ToString("#,0.######", Culture);

    /// <summary>A sum of money, such as '1,240 EUR' or '12.50 EUR'.</summary>
    /// <param name="sum">The sum.</param>
    /// <param name="currency">ISO 4217 code; null: not told.</param>
    /// <param name="inCents">Whether hundredths are told; null: as suits a sum that stands alone, from 100 on not.</param>
    /// <returns>The sum with its currency.</returns>
    public static string Money(double sum, string? currency, bool? inCents = null) =>
        sum.ToString(inCents ?? (Math.Abs(sum) < 100 && sum != 0) ? "N2" : "N0", Culture) + (currency is null ? null : " " + currency);

    /// <summary>A difference of shares in points of a percentage with its sign, such as '+1.5' or '−0.3'.</summary>
    /// <param name="share">The difference, -1 to 1.</param>
    /// <returns>The points, without their unit.</returns>
    public static string Points(double share) => double.IsFinite(share) ? (share * 100).ToString("+0.0;−0.0;0.0", Culture) : NotKnown;

    /// <summary>A share as a percentage, such as '92 %'; below 1 % and above 99 % with one decimal.</summary>
    /// <param name="share">The share, 0 to 1; null: not known.</param>
    /// <returns>The percentage; a share that is not quite all never reads '100 %', nor one above none '0 %'.</returns>
    public static string Share(double? share) => share is null || !double.IsFinite(share.Value) ? NotKnown : Percent(share.Value) + " %";

    /// <summary>A p-value, such as 'p 0.023' or 'p under 0.001'.</summary>
    /// <param name="p">The p-value, 0 to 1; null: not known.</param>
    /// <returns>The p-value with its letter.</returns>
    public static string PValue(double? p) => p is null || !double.IsFinite(p.Value) ? Figures.PNotKnown
        : p < LeastP ? Fill.In(Figures.PUnder, ("value", Tick(LeastP))) : Fill.In(Figures.P, ("value", Number(p)));

    /// <summary>A share with its bounds, such as '92 % (88 to 95 %)'.</summary>
    /// <param name="share">The share; null: not known.</param>
    /// <returns>Value and bounds.</returns>
    public static string Share(Estimate? share) => share is null || !double.IsFinite(share.Value)
        ? NotKnown
        : Percent(share.Value) + " %" + Bounds(share, Percent, " %");

    /// <summary>An estimate with its bounds and unit, such as '1,240 days (980 to 1,610)'.</summary>
    /// <param name="estimate">The estimate; null: not known.</param>
    /// <param name="unit">Unit after the value; empty for none.</param>
    /// <returns>Value, unit and bounds.</returns>
    public static string Estimated(Estimate? estimate, string unit = "") => estimate is null || !double.IsFinite(estimate.Value)
        ? NotKnown
        : Join(Number(estimate.Value), unit.Length == 0 ? null : unit) + Bounds(estimate, value => Number(value), string.Empty);

    /// <summary>The bounds of an estimate alone, such as '980 to 1,610'.</summary>
    /// <param name="estimate">The estimate; null: not known.</param>
    /// <returns>'at least', 'at most' or 'no bounds' where one or both are open.</returns>
    public static string Range(Estimate? estimate) => estimate is null ? NotKnown : Interval(estimate, value => Number(value));

    /// <summary>What ages are counted in, in words.</summary>
    /// <param name="clock">days, washes or operating_hours; null: days.</param>
    /// <returns>The unit of an age.</returns>
    public static string ClockUnit(string? clock) => Unit(clock, ShellTexts.Now.ClockUnits);

    /// <summary>What ages are counted in, as it stands after a preposition: 'by 900 days', in German 'bei 900 Tagen'.</summary>
    /// <param name="clock">days, washes or operating_hours; null: days.</param>
    /// <returns>The unit of an age.</returns>
    public static string ClockUnitAfter(string? clock) => Unit(clock, ShellTexts.Now.ClockUnitsAfter);

    /// <summary>What runs along an axis of ages, such as 'Age, days'.</summary>
    /// <param name="clock">days, washes or operating_hours; null: days.</param>
    /// <returns>A few words with the unit.</returns>
    public static string AgeAxis(string? clock) => Fill.In(ShellTexts.Now.Age, ("unit", Cut(ClockUnit(clock), 20)));

    /// <summary>A number by which a script may sort what stands in a cell.</summary>
    /// <param name="value">The number; null, NaN and infinities give none.</param>
    /// <returns>The number without thousands separators; null for none.</returns>
    public static string? SortKey(double? value) => value is { } number && double.IsFinite(number) ? number.ToString("0.####", CultureInfo.InvariantCulture)
        : null;

    /// <summary>A number by which a script may sort an instant in a cell.</summary>
    /// <param name="at">The instant; null gives none.</param>
    /// <returns>Seconds since 1970 UTC; null for none.</returns>
    public static string? SortKey(DateTimeOffset? at) => at?.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);

    /// <summary>A code in words: those that pages of several folders share in the reader's language; of any other, such as one of the customer's own,
    /// underscores and hyphens become spaces and the first letter a capital.</summary>
    /// <param name="code">The code, such as found_failed.</param>
    /// <returns>The words, such as 'Found failed'.</returns>
    public static string Words(string code)
    {
        ArgumentNullException.ThrowIfNull(code);
        if (ShellTexts.Now.Codes.TryGetValue(code, out string? told))
        {
            return told;
        }

        string words = code.Replace('_', ' ').Replace('-', ' ').Trim();
        return words.Length == 0 ? code : char.ToUpperInvariant(words[0]) + words[1..];
    }

    /// <summary>A name of something, such as 'Wash pump', as it stands within a sentence: small in English; a language that writes all its nouns with
    /// a capital leaves it as it is.</summary>
    /// <param name="name">The name.</param>
    /// <returns>Such as 'wash pump'.</returns>
    public static string Inside(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return ReaderPreferences.Current.Language == ReaderPreferences.English ? name.ToLowerInvariant() : name;
    }

    /// <summary>A clause as it stands within a sentence: in English without its capital; a language that writes all its nouns with a capital leaves it
    /// as it is.</summary>
    /// <param name="clause">The clause.</param>
    /// <returns>The clause; empty for empty.</returns>
    public static string Uncapital(string clause)
    {
        ArgumentNullException.ThrowIfNull(clause);
        return clause.Length == 0 || ReaderPreferences.Current.Language != ReaderPreferences.English ? clause : char.ToLowerInvariant(clause[0]) + clause[1..];
    }

    /// <summary>A clause with a capital.</summary>
    /// <param name="clause">The clause.</param>
    /// <returns>The clause; empty for empty.</returns>
    public static string Capital(string clause)
    {
        ArgumentNullException.ThrowIfNull(clause);
        return clause.Length == 0 ? clause : char.ToUpperInvariant(clause[0]) + clause[1..];
    }

    /// <summary>A clause as a sentence of its own: with a capital and a full stop.</summary>
    /// <param name="clause">The clause.</param>
    /// <returns>The sentence; empty for empty.</returns>
    public static string Sentence(string clause)
    {
        ArgumentNullException.ThrowIfNull(clause);
        string text = clause.Trim();
        return text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..] + (text[^1] is '.' or '!' or '?' ? string.Empty : ".");
    }

    /// <summary>A name cut to a length that fits an axis.</summary>
    /// <param name="name">The name.</param>
    /// <param name="length">Longest length, at least 2.</param>
    /// <returns>The name, with an ellipsis where it was cut.</returns>
    public static string Cut(string name, int length)
    {
        ArgumentNullException.ThrowIfNull(name);
        var elements = new StringInfo(name);
        return elements.LengthInTextElements <= length
            ? name
            : elements.SubstringByTextElements(0, length - 1).TrimEnd() + "…";
    }

    /// <summary>A name that says more and more, such as 'WP-10, Wash pump, Large oven', in a length that fits an axis.</summary>
    /// <param name="name">The name.</param>
    /// <param name="length">Longest length, at least 2.</param>
    /// <returns>As many of its parts as fit; where not even the first does, that is cut.</returns>
    public static string FirstParts(string name, int length)
    {
        ArgumentNullException.ThrowIfNull(name);
        int end = name.Length <= length ? -1 : name.LastIndexOf(", ", length, StringComparison.Ordinal);
        return Cut(end > 0 ? name[..end] : name, length);
    }

    /// <summary>A name in up to three lines where one is too short for it, such as before the bars of a narrow chart; broken between words, and cut only
    /// where three are too short as well.</summary>
    /// <param name="name">The name.</param>
    /// <param name="length">Longest length of a line, at least 2.</param>
    /// <returns>The name; a line feed between its lines.</returns>
    public static string InLines(string name, int length) => InLines(name, length, 3);

    private static string InLines(string name, int length, int most)
    {
        ArgumentNullException.ThrowIfNull(name);
        int end = most == 1 || name.Length <= length ? -1 : name.LastIndexOf(' ', length);
        return end <= 0 ? Cut(name, length) : name[..end] + "\n" + InLines(name[(end + 1)..], length, most - 1);
    }

    private static string Unit(string? clock, IReadOnlyDictionary<string, string> units) =>
        units.TryGetValue(clock ?? "days", out string? unit) ? unit : clock!.Replace('_', ' ');

    private static string Of(string text, double count) => Fill.In(text, ("count", Plain(count)));

    private static string Plain(double value) => value.ToString("N0", Culture);

    private static string Join(string first, string? second) => second is { Length: > 0 } ? first + " " + second : first;

    private static string Percent(double share)
    {
        double percent = share * 100;
        return percent is 0 or 100 ? Plain(percent)
            : percent < 0.05 ? Fill.In(Figures.Under, ("value", Tick(0.1)))
            : percent > 99.95 ? Fill.In(Figures.Over, ("value", Tick(99.9)))
            : percent is < 1 or > 99 ? percent.ToString("0.0", Culture)
            : Plain(percent);
    }

    private static string Bounds(Estimate estimate, Func<double, string> number, string unit) =>
        " (" + Interval(estimate, number) + (estimate.Lower is null && estimate.Upper is null ? string.Empty : unit) + ")";

    private static string Interval(Estimate estimate, Func<double, string> number)
    {
        double? lower = estimate.Lower is { } low && double.IsFinite(low) ? low : null;
        double? upper = estimate.Upper is { } high && double.IsFinite(high) ? high : null;
        return (lower, upper) switch
        {
            (null, null) => Figures.NoBounds,
            (null, not null) => Fill.In(Figures.AtMost, ("value", number(upper.Value))),
            (not null, null) => Fill.In(Figures.AtLeast, ("value", number(lower.Value))),
            _ => Fill.In(Figures.Between, ("lower", number(lower.Value)), ("upper", number(upper.Value))),
        };
    }
}
