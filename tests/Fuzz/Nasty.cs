namespace Washwear.Fuzz;

/// <summary>Values at the edges of what a field may hold.</summary>
internal static class Nasty
{
    public static readonly string[] Instants =
    [
        "0001-01-01T00:00:00Z", "0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59.9999999Z", "9999-12-31T23:59:59-14:00", "0000-01-01T00:00:00Z",
        "2024-02-29T12:00:00Z", "2025-02-29T12:00:00Z", "2016-12-31T23:59:60Z", "2026-02-20T24:00:00Z", "2026-03-29T02:30:00+01:00",
        "2025-10-26T02:30:00+02:00", "2026-02-20T22:00:00", "2026-02-20", "2026-02-20 22:00:00Z", "2026-02-20T22:00:00+99:99",
        "2026-02-20t22:00:00.1234567890123z", "1969-12-31T23:59:59.999Z", "2026-03-02T12:00:00.001Z", "2026-03-02T12:04:59Z", "20260220T220000Z",
        "2026-02-20T22:00:00\u22120100", "10000-01-01T00:00:00Z", "-0001-01-01T00:00:00Z", "2026-13-01T00:00:00Z", "1772452800",
    ];

    public static readonly string[] Numbers =
    [
        "0", "-0", "-0.0", "1e999", "-1e999", "1e-999", "1.7976931348623157e308", "5e-324", "9007199254740993", "123456789012345678901234567890",
        "2147483648", "-2147483649", "9223372036854775807", "9223372036854775808", "0.1", "-1", "1E+2", "00", "1.", ".5", "NaN", "Infinity", "0x10", "1_000",
    ];

    public static readonly string[] Texts =
    [
        "", " ", " x", "x ", "\0", "a\0b", "\t", "a\nb", "\r\n", "\uFEFF", "\u200B", "\u202Eabc", "\u2028", "\uFFFD", "\uFFFE", "\uE000", "\u0301", "e\u0301", "\u00e9",
        "\u0130", "\u0131", "\u1E9E", "\uFF21", "\U0001F600", "\U0010FFFF", "'; DROP TABLE record; --", "%00", "%2F..%2F", "../../etc", "null", "true", "[]", "{}",
        "\"", "\\", "a,b", "a;b", "=1+1", "OVEN-1", "oven-1", "\u0661\u0662", "<script>", "\u007f", "\u0085",
        new string('a', 64), new string('a', 65), new string('k', 200), new string('k', 201), new string('w', 501), new string('n', 2001),
        string.Concat(Enumerable.Repeat("\U0001F600", 100)), new string('\u0301', 300),
    ];

    public static readonly string[] RawJson =
    [
        "null", "true", "false", "[]", "{}", "[[]]", "{\"a\":1}", "\"\\ud800\"", "\"\\u0000\"", "\"\\udc00\\ud800\"", "[\"E21\"]", "[1,2,3]", "\"\\x\"", "nul", "tru", "'x'", "undefined", "",
        "[null]", "[{\"check\":\"turn-impeller\",\"result\":\"pass\",\"reading\":1e999}]", "[{\"position\":\"wash-pump\",\"note\":null}]", "[{\"proof\":\"full-wash\",\"result\":\"fail\"}]",
        "[\"\\ud800\"]", "{\"reason\":\"failed\",\"failure_mode\":\"leaks\",\"reason\":\"failed\"}", "{\"age_days\":-1}", "{\"age_days\":1e308}", "[{}]", "[[[[[[[[[]]]]]]]]]",
    ];

    public static readonly byte[][] Bytes =
    [
        [0xEF, 0xBB, 0xBF], [0xFF, 0xFE], [0xFE, 0xFF], [0], [0xC0, 0x80], [0xED, 0xA0, 0x80], [0xF4, 0x90, 0x80, 0x80], [0xFF], [0x80], [0xE2, 0x82], [0x1F, 0x8B, 8, 0],
        "\""u8.ToArray(), "\\"u8.ToArray(), "{"u8.ToArray(), "}"u8.ToArray(), "["u8.ToArray(), "]"u8.ToArray(), ","u8.ToArray(), ":"u8.ToArray(), "\n"u8.ToArray(), "\r\n"u8.ToArray(),
        "\r"u8.ToArray(), "\t"u8.ToArray(), ";"u8.ToArray(), "\"\""u8.ToArray(), "//"u8.ToArray(), "/*"u8.ToArray(), "\\u0000"u8.ToArray(), "\\ud800"u8.ToArray(), "1e999"u8.ToArray(),
        "{\"type\":\"wash\"}"u8.ToArray(), "]["u8.ToArray(), "}{"u8.ToArray(), "\u2028"u8.ToArray(),
    ];

    public static readonly string[] MediaTypes =
    [
        "application/json", "application/json; charset=utf-8", "application/json;charset=\"UTF-8\"", "application/json; charset=utf-16", "application/json; charset=", "application/x-ndjson",
        "application/jsonl", "text/csv", "text/csv; header=present", "TEXT/CSV", "text/plain", "application/cloudevents+json", "application/cloudevents-batch+json", "application/cloudevents",
        "application/cloudevents+xml", "application/vnd.example.wash+json", "multipart/form-data; boundary=x", "multipart/form-data", "application/x-www-form-urlencoded", "image/png", "*/*", "", ";", "a/b/c",
        "application/json, text/csv", "application/json; q=\"\\\"", "application/" + new string('x', 3000),
    ];

    public static readonly string[] Codings =
        ["gzip", "br", "x-gzip", "identity", "GZIP", "deflate", "zstd", "gzip, br", "gzip,gzip", ",", " gzip ", "gzip;q=1", "\"gzip\"", "identity, br", new string('g', 500)];

    public static T One<T>(this Random random, IReadOnlyList<T> of) => of[random.Next(of.Count)];

    public static bool Chance(this Random random, int percent) => random.Next(100) < percent;
}
