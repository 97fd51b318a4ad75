namespace Washwear.Api.Storage;

/// <summary>Something that is to be written in the transaction of whatever the current flow of work writes first, such as who does it.
/// Without a transaction, whoever made it writes it himself. Safe for concurrent use.</summary>
public abstract class WriteCompanion
{
    private const int Free = 0;
    private const int Taken = 1;
    private const int Done = 2;

    private static readonly AsyncLocal<WriteCompanion?> OfThisFlow = new();
    private int _state;

    /// <summary>The companion of the current flow of work; null: none.</summary>
    public static WriteCompanion? Current
    {
        get => OfThisFlow.Value;
        internal set => OfThisFlow.Value = value;
    }

    /// <summary>Takes the companion of this flow, if it waits to be written.</summary>
    internal static WriteCompanion? Take() => Current is { } companion && companion.TryTake() ? companion : null;

    /// <summary>Takes it, if it waits to be written.</summary>
    /// <returns>Whether it is the caller's to write now.</returns>
    internal bool TryTake() => Interlocked.CompareExchange(ref _state, Taken, Free) == Free;

    /// <summary>Lets it wait again: the transaction was undone.</summary>
    internal void GiveBack() => Interlocked.CompareExchange(ref _state, Free, Taken);

    /// <summary>Says that it is on disk.</summary>
    internal void Settle() => Volatile.Write(ref _state, Done);

    /// <summary>Writes it; the last thing before the commit. May be asked again if the transaction has to be.</summary>
    /// <param name="session">The transaction.</param>
    internal abstract Task WriteAsync(WriteSession session);
}
