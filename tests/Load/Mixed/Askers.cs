using System.Text;
using System.Text.Json;
using Washwear.Load.Fleet;
using Washwear.Load.Traffic;

namespace Washwear.Load.Mixed;

/// <summary>Somebody who asks one of several questions at a time.</summary>
/// <param name="run">What all clients share.</param>
/// <param name="key">Its key.</param>
/// <param name="random">Its chance.</param>
/// <param name="meanThinkSeconds">Mean of the time between two questions, seconds.</param>
internal class AskingClient(MixedRun run, LoadKey key, Random random, double meanThinkSeconds) : Client(run, key, random)
{
    private const int PagesOfAList = 3;
    private readonly IReadOnlyList<Question> _questions = Questions.Of(key.Role);

    /// <inheritdoc/>
    protected override double MeanThinkSeconds => meanThinkSeconds;

    /// <inheritdoc/>
    protected override async Task StepAsync()
    {
        Question question = Questions.Pick(_questions, Random);
        string path = question.Path(AnyUnit, Random);
        Answer answer = await GetAsync(question.Route, path);
        for (int page = 1; page < PagesOfAList && question.IsPaged && answer.Status == 200 && Next(answer) is { } next; page++)
        {
            await ThinkAsync(1);
            answer = await GetAsync(question.Route + ", next page", $"{path}&after={Uri.EscapeDataString(next)}");
        }
    }

    /// <summary>The cursor of the next page; null: there is none.</summary>
    /// <param name="answer">A page of a list as JSON.</param>
    protected static string? Next(Answer answer)
    {
        using JsonDocument body = JsonDocument.Parse(answer.Body);
        return body.RootElement.TryGetProperty("next", out JsonElement next) ? next.GetString() : null;
    }
}

/// <summary>A manager, who now and then decides an approval too.</summary>
/// <param name="run">What all clients share.</param>
/// <param name="key">Its key.</param>
/// <param name="random">Its chance.</param>
internal sealed class ManagerClient(MixedRun run, LoadKey key, Random random) : AskingClient(run, key, random, 10)
{
    private const int MostListed = 20;

    // Somebody else may have decided, or the request may have been corrected, between the list and the decision.
    private static readonly int[] DecidedOrNot = [200, 409];

    /// <inheritdoc/>
    protected override Task StepAsync() => Random.Next(12) == 0 ? DecideAsync() : base.StepAsync();

    private async Task DecideAsync()
    {
        Answer list = await GetAsync("/v1/approvals", $"/v1/approvals?limit={MostListed}");
        if (list.Status != 200)
        {
            return;
        }

        using JsonDocument body = JsonDocument.Parse(list.Body);
        JsonElement[] rows = [.. body.RootElement.GetProperty("rows").EnumerateArray()];
        if (rows.Length == 0)
        {
            return;
        }

        await ThinkAsync(2);
        long id = rows[Random.Next(rows.Length)].GetProperty("id").GetInt64();
        Answer answer = await Run.AskAsync(new Call("POST /v1/approvals/{id}/decision", HttpMethod.Post, $"/v1/approvals/{id}/decision", Key.Secret)
        {
            Body = Encoding.UTF8.GetBytes($$"""{"decision":"{{(Random.Next(4) > 0 ? "granted" : "refused")}}","by":"area manager (invented)"}"""),
            Expected = DecidedOrNot,
        });
        if (answer.Status == 200)
        {
            Run.Decided.Enqueue(id);
        }
    }
}
