using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Projections;

namespace Washwear.Api.Tests.Projections;

/// <summary>The state of a unit's charts comes back from its text to the last bit.</summary>
public sealed class SignStateTests
{
    private static readonly JsonSerializerOptions Plain = new()
    {
        IgnoreReadOnlyProperties = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Converters = { new InstantMs(), new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower) },
    };

    // All that a state holds, in a form that the program does not use.
    private static string JsonOf(UnitSigns signs) => JsonSerializer.Serialize(signs, Plain);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_state_comes_back_to_the_last_bit(int seed)
    {
        int called = 0;
        foreach (UnitSigns signs in States(seed))
        {
            string text = SignState.Write(signs);
            Assert.Equal(JsonOf(signs), JsonOf(SignState.Read(text)));
            Assert.Equal(text, SignState.Write(SignState.Read(text)));
            called += signs.AnyStands ? 1 : 0;
        }

        Assert.True(called > 0);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("no base64")]
    [InlineData("AA==")]
    public void A_text_that_is_no_state_is_said_to_be_none(string text) => Assert.Throws<FormatException>(() => SignState.Read(text));

    [Fact]
    public void A_state_that_was_cut_or_lengthened_is_none()
    {
        byte[] bytes = States(6).Last().ToBytes();
        for (int length = 0; length < bytes.Length; length++)
        {
            Assert.Throws<FormatException>(() => UnitSigns.FromBytes(bytes.AsSpan(0, length)));
        }

        Assert.Throws<FormatException>(() => UnitSigns.FromBytes([.. bytes, 0]));
    }

    // A unit's life with programmes of several lengths, washes that get longer and worse, and mends now and then.
    private static IEnumerable<UnitSigns> States(int seed)
    {
        var random = new Random(seed);
        var at = Instant.FromUtc(2025, 1, 1, 22, 0);
        UnitSigns signs = UnitSigns.Blank;
        yield return signs;
        for (int wash = 0; wash < 400; wash++)
        {
            at += Duration.FromMilliseconds(random.NextInt64(3_600_000, 172_800_000));
            double worse = wash % 150 > 100 ? 1 : 0;
            double minutes = 80 + (random.NextDouble() * 5) + (20 * worse);
            signs = random.Next(120) == 0
                ? signs.Restart(at, EarlySignOptions.Usual)
                : signs.Add(
                    new ObservedWash(
                        at, random.NextDouble() < 0.02 + (0.3 * worse), random.Next(3) == 0 ? "KÜRZER" : "DAILY", random.Next(5) == 0 ? null : minutes),
                    EarlySignOptions.Usual);
            yield return signs;
        }
    }

    private sealed class InstantMs : JsonConverter<Instant>
    {
        public override Instant Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Instant.FromUnixTimeMilliseconds(reader.GetInt64());

        public override void Write(Utf8JsonWriter writer, Instant value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(value.ToUnixTimeMilliseconds());
    }
}
