namespace Washwear.Fuzz;

/// <summary>Makes a case that breaks something smaller: pieces of its body, then headers, are left out while it still breaks.</summary>
internal static class Minimiser
{
    private const int MostTries = 400;

    public static async Task<FuzzCase> SmallerAsync(FuzzCase found, Func<FuzzCase, Task<bool>> breaks)
    {
        FuzzCase smallest = found;
        int tries = 0;
        async Task<bool> TryAsync(FuzzCase candidate)
        {
            if (++tries > MostTries || !await breaks(candidate))
            {
                return false;
            }

            smallest = candidate;
            return true;
        }

        for (int piece = (found.Body?.Length ?? 0) / 2; piece >= 1; piece /= 2)
        {
            for (int at = 0; at + piece <= (smallest.Body?.Length ?? 0) && tries <= MostTries;)
            {
                byte[] body = smallest.Body!;
                at += await TryAsync(smallest with { Body = [.. body[..at], .. body[(at + piece)..]] }) ? 0 : piece;
            }
        }

        foreach (Header header in found.Headers)
        {
            await TryAsync(smallest with { Headers = [.. smallest.Headers.Where(other => other != header)] });
        }

        await TryAsync(smallest with { Path = smallest.Path.Split('?')[0] });
        return smallest;
    }
}
