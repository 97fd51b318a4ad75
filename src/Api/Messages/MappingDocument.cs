using System.Text.Json;
using Washwear.Api.Equipment;

namespace Washwear.Api.Messages;

/// <summary>What a payload is.</summary>
internal enum PayloadFormat
{
    /// <summary>A record as it would be sent by HTTP: one object, or an array of them.</summary>
    Record,

    /// <summary>JSON of any shape, whose values are named by JSON Pointers.</summary>
    Json,

    /// <summary>A number alone.</summary>
    Number,

    /// <summary>A text alone.</summary>
    Text,

    /// <summary>Values of the information model OPC 30200, as OPC UA PubSub JSON or as a plain object.</summary>
    Equipment,
}

/// <summary>How an instant is written.</summary>
internal enum TimeForm
{
    /// <summary>RFC 3339 with offset.</summary>
    Iso,

    /// <summary>Seconds since 1970-01-01T00:00:00Z.</summary>
    EpochS,

    /// <summary>Milliseconds since 1970-01-01T00:00:00Z.</summary>
    EpochMs,
}

/// <summary>By what a unit is named.</summary>
internal enum UnitName
{
    /// <summary>By its asset tag.</summary>
    AssetTag,

    /// <summary>By its serial number.</summary>
    Serial,
}

/// <summary>The mapping file: which topics are listened to and what becomes of their messages.</summary>
/// <param name="Subscriptions">The topics.</param>
/// <param name="Source">Source of the records; null: 'mqtt'.</param>
/// <param name="Note">For people.</param>
internal sealed record MappingDocument(IReadOnlyList<SubscriptionResource> Subscriptions, string? Source = null, string? Note = null);

/// <summary>What becomes of the messages of a topic filter.</summary>
/// <param name="Topic">Topic filter; {name} is a level that is given a name, + any level, # all levels from there on.</param>
/// <param name="Payload">What a payload is.</param>
/// <param name="Records">The records that a message may become; for the formats 'record' and 'equipment': none.</param>
/// <param name="Equipment">For the format 'equipment': the kind of device, the unit and the alarms.</param>
/// <param name="Source">Source of the records; null: the file's.</param>
/// <param name="Note">For people.</param>
internal sealed record SubscriptionResource(
    string Topic,
    PayloadFormat Payload,
    IReadOnlyList<RecordResource>? Records = null,
    EquipmentResource? Equipment = null,
    string? Source = null,
    string? Note = null);

/// <summary>A record that a message may become.</summary>
/// <param name="Type">Its type.</param>
/// <param name="Unit">Which unit it is about.</param>
/// <param name="At">When it happened; null: when the message arrived.</param>
/// <param name="Key">Values that make its key, joined by slashes; null: a hash of topic, payload and instant.</param>
/// <param name="Fields">Its other fields, by their names in the API.</param>
/// <param name="When">Which messages become this record; null: all.</param>
internal sealed record RecordResource(
    string Type,
    ValueResource? Unit = null,
    ValueResource? At = null,
    IReadOnlyList<ValueResource>? Key = null,
    IReadOnlyDictionary<string, ValueResource>? Fields = null,
    ConditionResource? When = null);

/// <summary>A condition on a value.</summary>
/// <param name="Value">The value.</param>
/// <param name="Is">What it has to be: one of these.</param>
internal sealed record ConditionResource(ValueResource Value, IReadOnlyList<string> Is);

/// <summary>Where a value comes from, exactly one of the first five, and what is done with it.</summary>
/// <param name="Path">JSON Pointer (RFC 6901) into the payload.</param>
/// <param name="Level">Name of a level of the topic.</param>
/// <param name="Template">Text in which {name} stands for a level of the topic.</param>
/// <param name="Constant">The value itself.</param>
/// <param name="Payload">True: the whole payload.</param>
/// <param name="Map">What each value means; '*' is any other.</param>
/// <param name="Multiply">Factor for a number.</param>
/// <param name="Time">How an instant is written; null: iso.</param>
/// <param name="By">By what a unit is named; null: its asset tag.</param>
/// <param name="Optional">Whether it may be missing.</param>
internal sealed record ValueResource(
    string? Path = null,
    string? Level = null,
    string? Template = null,
    JsonElement? Constant = null,
    bool? Payload = null,
    IReadOnlyDictionary<string, string>? Map = null,
    double? Multiply = null,
    TimeForm? Time = null,
    UnitName? By = null,
    bool Optional = false);
