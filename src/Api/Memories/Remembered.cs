using Washwear.Api.Operation;
using Washwear.Api.Registry;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Memories;

/// <summary>Where the records stand that something was made from.</summary>
/// <typeparam name="T">The numbers of the last records that matter to it.</typeparam>
/// <param name="Registry">Version of the registry: what was made for another one is never given.</param>
/// <param name="Units">Units in the registry.</param>
/// <param name="Records">The last records.</param>
internal readonly record struct Place<T>(long Registry, int Units, T Records);

/// <summary>Says where records stand.</summary>
internal static class Place
{
    /// <summary>The place of some records.</summary>
    /// <typeparam name="T">The numbers of the last records that matter.</typeparam>
    /// <param name="registry">The registry.</param>
    /// <param name="records">The last records.</param>
    public static Place<T> Of<T>(RegistrySnapshot registry, T records) => new(registry.Version, registry.UnitList.Count, records);
}

/// <summary>How something is made that is kept in memory.</summary>
/// <typeparam name="TRecords">The numbers of the last records that matter to it.</typeparam>
/// <typeparam name="T">What is made.</typeparam>
/// <param name="What">Its name, for the log.</param>
/// <param name="KeptFor">How long it holds while nothing changes, since it speaks of an instant.</param>
/// <param name="PlaceAsync">Where the records stand.</param>
/// <param name="MakeAsync">Makes it as of an instant.</param>
internal sealed record Recipe<TRecords, T>(
    string What, TimeSpan KeptFor, Func<CancellationToken, Task<Place<TRecords>>> PlaceAsync, Func<DateTimeOffset, CancellationToken, Task<T>> MakeAsync)
{
    /// <summary>As of when it is, where it rests on something that may lag itself; null: as of the question that it was made for.</summary>
    public Func<T, DateTimeOffset>? AsOf { get; init; }
}

/// <summary>
/// Something that is dear to make from many records, kept until they change, and beyond as far as <see cref="LagRule"/> allows. It is made once
/// at a time: whoever asks meanwhile is given what was begun after they asked, so that nobody waits for more than two makings however many ask
/// and however fast records come. Safe for concurrent use.
/// </summary>
/// <typeparam name="TRecords">The numbers of the last records that matter to it.</typeparam>
/// <typeparam name="T">What is made.</typeparam>
internal sealed class Remembered<TRecords, T> : IKept
    where T : class
{
    // Questions that come together are asked as of moments that differ a little, and are given one answer.
    private static readonly TimeSpan SameMoment = TimeSpan.FromMinutes(1);

    // Who asks every morning does not wait.
    private static readonly TimeSpan KeptAfterAsking = TimeSpan.FromHours(24);

    private readonly Renewals _renewals;
    private readonly Recipe<TRecords, T> _recipe;
    private readonly Lock _gate = new();
    private volatile Made? _made;
    private Making? _making;
    private int _renewing;
    private long _askedAt = long.MinValue;

    /// <summary>Begins with nothing.</summary>
    /// <param name="renewals">Makes it anew in the background.</param>
    /// <param name="recipe">How it is made.</param>
    public Remembered(Renewals renewals, Recipe<TRecords, T> recipe)
    {
        (_renewals, _recipe) = (renewals, recipe);
        renewals.Keep(this);
    }

    /// <summary>What holds as of an instant.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops waiting; what is being made is made to its end for those who ask next.</param>
    public async Task<T> CurrentAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        Volatile.Write(ref _askedAt, asOf.UtcTicks);
        long asked = _renewals.Clock.GetTimestamp();
        Place<TRecords> place = await _recipe.PlaceAsync(cancellationToken);
        while (true)
        {
            if (_made is { } made && IsOf(made.AsOf, asOf) && (made.Began >= asked || made.Place.Equals(place) || Lags(made, place, asOf)))
            {
                return made.Value;
            }

            Making making = Join(asOf);
            if (making.Began >= asked && IsOf(making.AsOf, asOf))
            {
                return (await making.Result.WaitAsync(cancellationToken)).Value;
            }

            // It was begun before the question: what comes of it may be too old, and where it fails the next one may not.
            await ((Task)making.Result).WaitAsync(cancellationToken)
                .ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing | ConfigureAwaitOptions.ContinueOnCapturedContext);
            cancellationToken.ThrowIfCancellationRequested();
        }
    }

    /// <inheritdoc/>
    public async Task KeepAsync(DateTimeOffset now, CancellationToken cancellationToken)
    {
        if (_made is not { } made || now.UtcTicks - Volatile.Read(ref _askedAt) > KeptAfterAsking.Ticks || made.Cost < LagRule.Dear)
        {
            return;
        }

        Place<TRecords> place = await _recipe.PlaceAsync(cancellationToken);
        bool isOld = made.Place.Registry != place.Registry
            || _renewals.Rule.IsToKeep(made.Cost, now - made.AsOf, _recipe.KeptFor, made.Place.Equals(place));
        if (_renewals.Rule.IsLarge(place.Units) && isOld && ReferenceEquals(_made, made))
        {
            await Join(now).Result;
        }
    }

    private bool IsOf(DateTimeOffset madeAsOf, DateTimeOffset asOf) => asOf > madeAsOf - SameMoment && asOf - madeAsOf < _recipe.KeptFor;

    private bool Lags(Made made, Place<TRecords> place, DateTimeOffset asOf)
    {
        TimeSpan age = asOf - made.AsOf;
        if (made.Place.Registry != place.Registry || !_renewals.Rule.MayLag(place.Units, made.Cost, age))
        {
            return false;
        }

        if (_renewals.Rule.IsDue(made.Cost, age) && Interlocked.Exchange(ref _renewing, 1) == 0)
        {
            _renewals.Begin(_recipe.What, () => RenewAsync(made, asOf));
        }

        return true;
    }

    private async Task RenewAsync(Made old, DateTimeOffset asOf)
    {
        try
        {
            // While it waited for its turn, somebody who could not wait may have made it.
            if (ReferenceEquals(_made, old))
            {
                await Join(asOf).Result;
            }
        }
        finally
        {
            Volatile.Write(ref _renewing, 0);
        }
    }

    /// <summary>What is being made now, or is begun now.</summary>
    private Making Join(DateTimeOffset asOf)
    {
        lock (_gate)
        {
            if (_making is { Result.IsCompleted: false } under)
            {
                return under;
            }

            long began = _renewals.Clock.GetTimestamp();
            return _making = new Making(began, asOf, Task.Run(() => MakeAsync(began, asOf, _renewals.End), _renewals.End));
        }
    }

    private async Task<Made> MakeAsync(long began, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        using Telemetry.Derivation derived = Telemetry.Deriving(_recipe.What);

        // What all share is written for nobody in particular.
        using IDisposable anybody = ReaderPreferences.Use(ReaderPreferences.Standard);

        // What was read may be newer than this place, never older.
        Place<TRecords> place = await _recipe.PlaceAsync(cancellationToken);
        T value = await _recipe.MakeAsync(asOf, cancellationToken);
        return _made = new Made(place, _recipe.AsOf?.Invoke(value) ?? asOf, began, _renewals.Clock.GetElapsedTime(began), value);
    }

    private sealed record Made(Place<TRecords> Place, DateTimeOffset AsOf, long Began, TimeSpan Cost, T Value);

    private sealed record Making(long Began, DateTimeOffset AsOf, Task<Made> Result);
}
