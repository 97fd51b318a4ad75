namespace Washwear.Api.Ingest;

/// <summary>Finds the known code that somebody may have meant.</summary>
/// <remarks>Looking through a large fleet costs time that the rows behind should not wait for, so only the first few unknown codes are
/// looked up.</remarks>
internal sealed class NearestCode
{
    private const int LookUps = 50;
    private const int MostEdits = 2;

    private int _left = LookUps;

    /// <summary>The nearest code within two edits (insert, delete, replace, swap neighbours); null if there is none.</summary>
    /// <param name="code">The unknown code.</param>
    /// <param name="known">The known codes.</param>
    public string? To(string code, IEnumerable<string> known)
    {
        if (_left == 0)
        {
            return null;
        }

        _left--;
        string upper = code.ToUpperInvariant();
        int most = Math.Min(MostEdits, code.Length / 2);
        return known
            .Where(candidate => Math.Abs(candidate.Length - code.Length) <= most)
            .Select(candidate => (Code: candidate, Edits: Edits(upper, candidate.ToUpperInvariant())))
            .Where(candidate => candidate.Edits <= most)
            .OrderBy(candidate => candidate.Edits)
            .ThenBy(candidate => candidate.Code, StringComparer.Ordinal)
            .Select(candidate => candidate.Code)
            .FirstOrDefault();
    }

    // Optimal string alignment: the usual table of edit distances, with swapped neighbours as one edit.
    private static int Edits(string from, string to)
    {
        int[,] cost = new int[from.Length + 1, to.Length + 1];
        for (int row = 0; row <= from.Length; row++)
        {
            cost[row, 0] = row;
        }

        for (int column = 0; column <= to.Length; column++)
        {
            cost[0, column] = column;
        }

        for (int row = 1; row <= from.Length; row++)
        {
            for (int column = 1; column <= to.Length; column++)
            {
                int replace = cost[row - 1, column - 1] + (from[row - 1] == to[column - 1] ? 0 : 1);
                cost[row, column] = Math.Min(replace, Math.Min(cost[row - 1, column], cost[row, column - 1]) + 1);
                if (row > 1 && column > 1 && from[row - 1] == to[column - 2] && from[row - 2] == to[column - 1])
                {
                    cost[row, column] = Math.Min(cost[row, column], cost[row - 2, column - 2] + 1);
                }
            }
        }

        return cost[from.Length, to.Length];
    }
}
