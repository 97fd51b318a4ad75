using System.Collections.Concurrent;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Memories;

/// <summary>What was worked out of something that does not change any more, kept as long as that is. Safe for concurrent use.</summary>
/// <param name="most">Most answers; when more are asked for, all are let go of.</param>
internal sealed class KeptAnswers(int most)
{
    private readonly ConcurrentDictionary<object, Lazy<object>> _kept = new();

    /// <summary>What was worked out before, or is worked out now; those who ask the same at once share the work.</summary>
    /// <typeparam name="T">What it is.</typeparam>
    /// <param name="question">What was asked, as a value.</param>
    /// <param name="work">Works it out; where it fails, nothing is kept.</param>
    public T Of<T>(object question, Func<T> work)
        where T : class
    {
        // What is kept may hold sentences, which each reader has in his own way.
        question = (question, ReaderPreferences.Current.OfText);
        if (_kept.Count >= most && !_kept.ContainsKey(question))
        {
            _kept.Clear();
        }

        Lazy<object> answer = _kept.GetOrAdd(question, static (_, work) => new Lazy<object>(() => work()), work);
        try
        {
            return (T)answer.Value;
        }
        catch
        {
            _kept.TryRemove(KeyValuePair.Create(question, answer));
            throw;
        }
    }
}
