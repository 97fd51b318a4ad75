using System.Collections.Concurrent;
using Washwear.Api.Registry;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Memories;

/// <summary>
/// Answers to whole questions of large fleets, each kept as <see cref="LagRule"/> allows. Small fleets are answered anew each time. Safe for
/// concurrent use.
/// </summary>
/// <typeparam name="TQuestion">What is asked, as a value.</typeparam>
/// <typeparam name="T">The answer.</typeparam>
/// <param name="renewals">Answers anew in the background.</param>
/// <param name="what">Name of the questions, for the log and the measurements.</param>
/// <param name="registry">The registry.</param>
/// <param name="answer">Answers.</param>
internal sealed class Answers<TQuestion, T>(
    Renewals renewals, string what, RegistryCache registry, Func<TQuestion, DateTimeOffset, CancellationToken, Task<T>> answer)
    where TQuestion : notnull
    where T : class
{
    private const int Most = 64;

    private readonly ConcurrentDictionary<(TQuestion Question, ReaderPreferences Reader), Remembered<long, T>> _answers = new();

    /// <summary>The answer as of an instant.</summary>
    /// <param name="question">The question.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task<T> OfAsync(TQuestion question, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        if (!renewals.Rule.IsLarge((await registry.CurrentAsync(cancellationToken)).UnitList.Count))
        {
            return await answer(question, asOf, cancellationToken);
        }

        // Answers hold sentences, which each reader has in his own way.
        (TQuestion, ReaderPreferences) asked = (question, ReaderPreferences.Current.OfText);
        if (_answers.Count >= Most && !_answers.ContainsKey(asked))
        {
            _answers.Clear();
        }

        return await _answers.GetOrAdd(asked, Memory).CurrentAsync(asOf, cancellationToken);
    }

    // Records come to a large fleet all the time: every question is one about newer records than the one before.
    private Remembered<long, T> Memory((TQuestion Question, ReaderPreferences Reader) asked) => new(renewals, new(
        what,
        renewals.Rule.Most,
        async token => Place.Of(await registry.CurrentAsync(token), renewals.Clock.GetTimestamp()),
        async (asOf, token) =>
        {
            using (ReaderPreferences.Use(asked.Reader))
            {
                return await answer(asked.Question, asOf, token);
            }
        }));
}
