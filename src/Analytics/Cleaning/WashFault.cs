using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>A fault that the unit raised, with what it means for washing.</summary>
/// <param name="Code">Code of the model's own catalogue.</param>
/// <param name="RaisedAt">When it was raised.</param>
/// <param name="ClearedAt">When it was cleared; null while it stands. A fault cleared at or before it was raised never stood.</param>
/// <param name="LocksOutWashing">True when the unit will not wash while it stands.</param>
public sealed record WashFault(string Code, Instant RaisedAt, Instant? ClearedAt, bool LocksOutWashing);
