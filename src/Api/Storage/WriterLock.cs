namespace Washwear.Api.Storage;

/// <summary>Whether the lock of writers can be had.</summary>
internal enum WriterLock
{
    /// <summary>It is free, or this process has it.</summary>
    Free,

    /// <summary>Another process has it.</summary>
    Held,

    /// <summary>The database may only be read.</summary>
    ReadOnly,
}
