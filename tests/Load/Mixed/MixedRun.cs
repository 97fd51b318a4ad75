using System.Collections.Concurrent;
using Washwear.Load.Fleet;
using Washwear.Load.Measured;
using Washwear.Load.Traffic;

namespace Washwear.Load.Mixed;

/// <summary>What all clients of a run share.</summary>
/// <param name="Fleet">The fleet.</param>
/// <param name="Caller">Sends.</param>
/// <param name="Figures">Counts.</param>
/// <param name="Sent">The records that were sent.</param>
/// <param name="Think">What think times are multiplied by.</param>
/// <param name="Until">Ends the run between two requests.</param>
internal sealed record MixedRun(PreparedFleet Fleet, Caller Caller, Figures Figures, SentRecords Sent, double Think, CancellationToken Until)
{
    /// <summary>Numbers of approvals whose decision was acknowledged.</summary>
    public ConcurrentQueue<long> Decided { get; } = new();

    /// <summary>Asks, counts, and gives the answer.</summary>
    /// <param name="call">The request.</param>
    public async Task<Answer> AskAsync(Call call)
    {
        Answer answer = await Caller.SendAsync(call);
        Figures.Add(call, answer);
        return answer;
    }
}
