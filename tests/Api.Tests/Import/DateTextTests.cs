using System.Globalization;
using Washwear.Api.Import;
using Washwear.Api.Import.Guessing;

namespace Washwear.Api.Tests.Import;

public sealed class DateTextTests
{
    [Theory]
    [InlineData("2026-03-02", "2026-03-02")]
    [InlineData("2026/3/2 7:05", "2026-03-02 07:05:00")]
    [InlineData("2026-03-02T22:15:30.250", "2026-03-02 22:15:30")]
    [InlineData("2026-03-02T22:15:30Z", "2026-03-02 22:15:30 +00")]
    [InlineData("2026-03-02 22:15 +02:00", "2026-03-02 22:15:00 +02")]
    [InlineData("20260302", "2026-03-02")]
    [InlineData("02.03.26", "2026-03-02")]
    [InlineData("2.3.2026, 22:15 Uhr", "2026-03-02 22:15:00")]
    [InlineData("02/03/2026 2:05 PM", "2026-03-02 14:05:00")]
    [InlineData("02/03/2026 12:05 a.m.", "2026-03-02 00:05:00")]
    [InlineData("2 Mar 2026", "2026-03-02")]
    [InlineData("2-Mar-26 22:15", "2026-03-02 22:15:00")]
    [InlineData("2. März 2026", "2026-03-02")]
    [InlineData("1er août 2026", "2026-08-01")]
    [InlineData("le 3", null)]
    [InlineData("Mar 2, 2026 22:15", "2026-03-02 22:15:00")]
    [InlineData("Mo, 02.03.2026 22:15", "2026-03-02 22:15:00")]
    [InlineData("mar. 3 mars 2026", "2026-03-03")]
    [InlineData("22:15", "22:15:00")]
    [InlineData("14h30", "14:30:00")]
    [InlineData("7 pm", "19:00:00")]
    [InlineData("31.02.2026", null)]
    [InlineData("32/01/2026", null)]
    [InlineData("25:00", null)]
    [InlineData("13:05 PM", null)]
    [InlineData("12", null)]
    [InlineData("0", null)]
    [InlineData("", null)]
    [InlineData("OVEN-12", null)]
    public void Dates_are_read_in_the_forms_that_people_write(string text, string? expected)
    {
        bool read = DateText.TryRead(text, DateOrder.DayFirst, out WallTime wall);

        Assert.Equal(expected is not null, read);
        if (read)
        {
            string?[] parts =
            [
                wall.Date?.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture), wall.Time?.ToString("HH:mm:ss", CultureInfo.InvariantCulture),
                wall.Offset?.ToString("+HH", CultureInfo.InvariantCulture),
            ];
            Assert.Equal(expected, string.Join(' ', parts.Where(part => part is not null)));
        }
    }

    [Fact]
    public void A_number_above_12_is_the_day_whatever_was_said()
    {
        Assert.True(DateText.TryRead("12/31/2026", DateOrder.DayFirst, out WallTime wall));
        Assert.Equal(31, wall.Date!.Value.Day);
        Assert.False(DateText.TryRead("11/12/2026", null, out _));
        Assert.True(DateText.TryRead("11/11/2026", null, out _));
    }

    [Theory]
    [InlineData("1,234.5", null, 1234.5)]
    [InlineData("1.234,5", null, 1234.5)]
    [InlineData("12,5", null, 12.5)]
    [InlineData("1,234", DecimalMark.Comma, 1.234)]
    [InlineData("1,234", DecimalMark.Point, 1234)]
    [InlineData("1.234", DecimalMark.Comma, 1234)]
    [InlineData("1 234,5", DecimalMark.Comma, 1234.5)]
    [InlineData("1'234.5", DecimalMark.Point, 1234.5)]
    [InlineData("-3", null, -3)]
    public void Numbers_are_read_with_either_mark(string text, DecimalMark? mark, double expected)
    {
        Assert.True(NumberText.TryRead(text, mark, out double number));
        Assert.Equal(expected, number);
    }

    [Theory]
    [InlineData("startTime", "start time")]
    [InlineData("START_TIME", "start time")]
    [InlineData("Start time (local)", "start time")]
    [InlineData("Geräte-Nr.", "gerate nr")]
    [InlineData("Straße", "strasse")]
    [InlineData("Asset #", "asset nr")]
    public void Headings_are_compared_by_their_words(string heading, string words) => Assert.Equal(words, Headings.Words(heading));
}
