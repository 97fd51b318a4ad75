using System.Text;
using System.Text.Json;

namespace Washwear.Fuzz;

/// <summary>Breaks what was good: fields of records, and bytes of whatever.</summary>
internal static class Mutator
{
    private const int MostBytes = 2 * 1024 * 1024;

    /// <summary>Changes one thing in the fields of a record.</summary>
    public static void Break(List<SeedField> fields, Random random)
    {
        int at = random.Next(fields.Count);
        switch (random.Next(8))
        {
            case 0:
                fields.RemoveAt(at);
                break;
            case 1:
                fields.Add(fields[at] with { Json = AnyJson(random) });
                break;
            case 2:
                fields.Add(new SeedField(random.One(["colour", "at", "AT", "removed", "faults", "part_changes", "", "\0", new string('f', 100), "k\u00e9y", "fitted", "note"]), AnyJson(random)));
                break;
            case 3:
                fields[at] = fields[at] with { Json = JsonSerializer.Serialize(random.One(Nasty.Instants)) };
                break;
            case 4:
                fields[at] = fields[at] with { Json = random.One(Nasty.Numbers) };
                break;
            case 5:
                fields[at] = fields[at] with { Json = JsonSerializer.Serialize(random.One(Nasty.Texts)) };
                break;
            case 6:
                (int from, int to) = (random.Next(fields.Count), random.Next(fields.Count));
                (fields[from], fields[to]) = (fields[from] with { Json = fields[to].Json }, fields[to] with { Json = fields[from].Json });
                break;
            default:
                fields[at] = fields[at] with { Json = AnyJson(random) };
                break;
        }

        if (fields.Count == 0)
        {
            fields.Add(new SeedField("key", "1"));
        }
    }

    public static string AnyJson(Random random) => random.Next(4) switch
    {
        0 => random.One(Nasty.RawJson),
        1 => random.One(Nasty.Numbers),
        2 => JsonSerializer.Serialize(random.One(Nasty.Instants)),
        _ => JsonSerializer.Serialize(random.One(Nasty.Texts)),
    };

    /// <summary>Changes bytes.</summary>
    public static byte[] Break(byte[] body, Random random, byte[] other)
    {
        List<byte> bytes = [.. body];
        for (int change = random.Next(1, 5); change > 0; change--)
        {
            int at = random.Next(bytes.Count + 1);
            int rest = bytes.Count - at;
            switch (random.Next(random.Chance(2) ? 10 : 7))
            {
                case 0 when rest > 0:
                    bytes[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 1 when rest > 0:
                    bytes[at] = (byte)random.Next(256);
                    break;
                case 2:
                    bytes.RemoveRange(at, Math.Min(random.Next(1, 30), rest));
                    break;
                case 3:
                    bytes.InsertRange(at, bytes.GetRange(at, Math.Min(random.Next(1, 60), rest)));
                    break;
                case 4:
                    bytes.RemoveRange(at, random.Chance(30) ? rest : 0);
                    break;
                case 5 when other.Length > 0:
                    int from = random.Next(other.Length);
                    bytes.InsertRange(at, other[from..Math.Min(other.Length, from + random.Next(1, 100))]);
                    break;
                case 7:
                    bytes.InsertRange(at, Encoding.ASCII.GetBytes(new string(random.One(['[', '{', '"', 'a', ' ', '\n', ',', '0', ';']), random.One([100, 5_000, 70_000, 300_000]))));
                    break;
                case 8:
                    bytes.InsertRange(at, Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat("{\"a\":", random.One([9, 100, 20_000])))));
                    break;
                case 9 when rest > 0 && bytes.Count < 4096:
                    byte[] piece = [.. bytes[at..]];
                    for (int times = random.One([10, 200]); times > 0; times--)
                    {
                        bytes.AddRange(piece);
                    }

                    break;
                default:
                    bytes.InsertRange(at, random.One(Nasty.Bytes));
                    break;
            }
        }

        return [.. bytes.Take(MostBytes)];
    }
}
