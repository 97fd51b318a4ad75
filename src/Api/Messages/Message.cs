namespace Washwear.Api.Messages;

/// <summary>One message as it came.</summary>
/// <param name="Topic">Its topic.</param>
/// <param name="Payload">What it says, as bytes.</param>
/// <param name="Retained">Whether the broker kept it and gave it out at the subscription: how old it is, nobody knows.</param>
/// <param name="ArrivedAt">When it came.</param>
internal sealed record Message(string Topic, ReadOnlyMemory<byte> Payload, bool Retained, DateTimeOffset ArrivedAt);
