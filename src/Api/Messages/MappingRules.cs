using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Api.Messages;

/// <summary>Whether a mapping can do its work: everything that it makes is a record of a known type with known fields.</summary>
internal sealed class MappingRules
{
    private const int LongestSource = 64;
    private readonly List<FieldProblem> _problems = [];

    private MappingRules()
    {
    }

    /// <summary>Lists what is wrong.</summary>
    /// <param name="mapping">The mapping.</param>
    public static IReadOnlyList<FieldProblem> Check(MappingDocument mapping)
    {
        var rules = new MappingRules();
        rules.Source("source", mapping.Source);
        if (mapping.Subscriptions.Count == 0)
        {
            rules.Refuse("subscriptions", "empty", "No topic is listened to.", "Give at least one subscription.");
        }

        for (int index = 0; index < mapping.Subscriptions.Count; index++)
        {
            rules.Subscription(FormattableString.Invariant($"subscriptions[{index}]"), mapping.Subscriptions[index]);
        }

        foreach (IGrouping<string, int> twice in mapping.Subscriptions.Select((one, index) => (one, index))
            .GroupBy(pair => TopicPattern.Read(pair.one.Topic, out _)?.Filter ?? string.Empty, pair => pair.index, StringComparer.Ordinal)
            .Where(group => group.Key.Length > 0 && group.Count() > 1))
        {
            rules.Refuse(
                FormattableString.Invariant($"subscriptions[{twice.ElementAt(1)}].topic"), "twice", $"The topic filter {twice.Key} is listened to twice; only the first would see its messages.",
                "Put all records of a topic into one subscription, told apart by 'when'.");
        }

        return rules._problems;
    }

    private void Refuse(string field, string rule, string detail, string mend) => _problems.Add(new(field, rule, detail, mend));

    private void Source(string field, string? source)
    {
        if (source is not null && (source.Length is 0 or > LongestSource || source.Any(char.IsControl)))
        {
            Refuse(field, "length", "A source has 1 to 64 printable characters.", "Name the sender more shortly.");
        }
    }

    private void Subscription(string field, SubscriptionResource subscription)
    {
        Source(field + ".source", subscription.Source);
        TopicPattern? pattern = TopicPattern.Read(subscription.Topic, out string? problem);
        if (pattern is null)
        {
            Refuse(field + ".topic", "topic", problem!, "Write it as kitchens/{site}/{unit}/wash: names in braces, + for any level, # at the end for all that follow.");
        }

        bool asIs = subscription.Payload is PayloadFormat.Record or PayloadFormat.Equipment;
        if (asIs != subscription.Records is null or { Count: 0 })
        {
            Refuse(
                field + ".records", "records", asIs ? "Such a payload needs no mapping." : "Nothing says what becomes of the messages.",
                asIs ? "Leave 'records' out, or say that the payload is json." : "Give 'records': the type, unit, key, at and fields of each record.");
            return;
        }

        Equipment(field + ".equipment", subscription, pattern?.Names ?? []);
        for (int index = 0; !asIs && index < subscription.Records!.Count; index++)
        {
            new RecordScope(this, subscription.Payload, pattern?.Names ?? []).Record(
                FormattableString.Invariant($"{field}.records[{index}]"), subscription.Records[index]);
        }
    }

    private void Equipment(string field, SubscriptionResource subscription, IReadOnlyList<string> levels)
    {
        if (subscription.Payload == PayloadFormat.Equipment != subscription.Equipment is not null)
        {
            Refuse(
                field, "equipment", "'equipment' goes with a payload that is equipment, and only with that.",
                "Give both, with the kind of device and the unit, or neither.");
        }

        if (subscription.Equipment is not { } equipment)
        {
            return;
        }

        new RecordScope(this, PayloadFormat.Json, levels).Value(field + ".unit", equipment.Unit, RecordField.Unit);
        if (equipment.HeardEveryMinutes is < 1 or > 1440)
        {
            Refuse(field + ".heard_every_minutes", "range", "The number is not between 1 and 1440.", "Give minutes, 60 for once an hour.");
        }

        if (equipment.Alarms is { LeastSeverity: < 1 or > 1000 })
        {
            Refuse(field + ".alarms.least_severity", "range", "A severity is between 1 and 1000.", "Give a number from 1 to 1000.");
        }

        foreach (KeyValuePair<string, string> code in (equipment.Alarms?.Codes ?? new Dictionary<string, string>()).Where(code => !Codes.IsValid(code.Value)))
        {
            Refuse($"{field}.alarms.codes.{code.Key}", "code", "This is no fault code.", "Give 1 to 64 printable characters without a space at the ends.");
        }
    }

    /// <summary>The rules of one record, with what its message offers.</summary>
    /// <param name="rules">Where problems go.</param>
    /// <param name="payload">What a payload is.</param>
    /// <param name="levels">Names of levels of the topic.</param>
    private sealed class RecordScope(MappingRules rules, PayloadFormat payload, IReadOnlyList<string> levels)
    {
        public void Record(string field, RecordResource record)
        {
            if (!RecordFields.Allowed.ContainsKey(record.Type))
            {
                rules.Refuse(
                    field + ".type", "unknown_type", "There is no such type of record.",
                    $"Use one of {string.Join(", ", RecordFields.Types)}.");
                return;
            }

            Head(field, record);
            foreach ((string name, ValueResource value) in record.Fields ?? new Dictionary<string, ValueResource>())
            {
                Field($"{field}.fields.{name}", record.Type, name, value);
            }

            foreach (RecordField must in RecordWords.Musts(record.Type).Where(must => record.Fields?.ContainsKey(RecordFields.Name(must)) != true))
            {
                rules.Refuse(
                    field + ".fields." + RecordFields.Name(must), "required", $"A {record.Type} cannot do without {RecordFields.Name(must)}.",
                    "Say where it comes from, or give a constant.");
            }

            if (record.When is { } when)
            {
                Value(field + ".when.value", when.Value, null);
            }
        }

        private void Head(string field, RecordResource record)
        {
            if (record.Type == "void" != record.Unit is null)
            {
                rules.Refuse(
                    field + ".unit", "unit", record.Unit is null ? "Nothing says which unit it is about." : "A void is about a key, not about a unit.",
                    record.Unit is null ? "Give a level of the topic or a path, by asset_tag or by serial." : "Leave 'unit' out.");
            }

            if (record.Unit is { } unit)
            {
                Value(field + ".unit", unit, RecordField.Unit);
            }

            for (int index = 0; index < (record.Key?.Count ?? 0); index++)
            {
                Value(FormattableString.Invariant($"{field}.key[{index}]"), record.Key![index], RecordField.Key);
            }

            Instant(field, record);
        }

        private void Instant(string field, RecordResource record)
        {
            if (record.At is { } at)
            {
                Value(field + ".at", at, RecordField.At);
                if (RecordWords.NamesItsInstant(record.Type))
                {
                    rules.Refuse(field + ".at", "two_instants", $"A {record.Type} has instants of its own.", "Map those among its fields and leave 'at' out.");
                }
            }
            else if (!RecordWords.NamesItsInstant(record.Type) && !RecordWords.MayRepeat(record.Type) && record.Key is null or { Count: 0 })
            {
                rules.Refuse(
                    field + ".key", "no_identity", $"Without an instant and without a key of its own, a {record.Type} that the broker delivers twice would be taken in twice.",
                    "Give 'at' or 'key' from the payload.");
            }
        }

        private void Field(string field, string type, string name, ValueResource value)
        {
            if (!RecordFields.ByName.TryGetValue(name, out RecordField known) || (RecordFields.Allowed[type] & RecordFields.Mask(known)) == 0)
            {
                rules.Refuse(field, "unknown_field", $"A {type} has no field '{name}'.", $"Its fields are {RecordFields.ListFor(type)}.");
            }
            else if ((RecordWords.WithOwnPlace & RecordFields.Mask(known)) != 0 || RecordWords.IsAnotherNameForAt(type, known))
            {
                rules.Refuse(field, "own_place", $"'{name}' has a place of its own beside 'fields'.", "Write it there: type, unit, key, at; the source is that of the subscription.");
            }
            else
            {
                Value(field, value, known);
                Words(field, RecordWords.ListOf(type, known), value);
            }
        }

        private void Words(string field, string? list, ValueResource value)
        {
            if (list is null)
            {
                return;
            }

            IEnumerable<string> words = value.Map is { } map ? map.Values : value.Constant is { } constant ? [constant.ToString()] : [];
            foreach (string word in words.Where(word => !list.Split(", ").Contains(word, StringComparer.OrdinalIgnoreCase)))
            {
                rules.Refuse(field, "unknown_word", $"'{word}' is none of the known words.", $"Use one of {list}.");
            }
        }

        public void Value(string field, ValueResource value, RecordField? target)
        {
            int sources = new[] { value.Path is not null, value.Level is not null, value.Template is not null, value.Constant is not null, value.Payload == true }.Count(given => given);
            if (sources != 1)
            {
                rules.Refuse(field, "one_origin", $"The value has {sources} origins; it needs one.", "Give exactly one of path, level, template, constant and payload (true).");
                return;
            }

            Origin(field, value);
            if (value.Time is not null && !(target is { } instant && RecordWords.IsInstant(instant)))
            {
                rules.Refuse(field + ".time", "no_instant", "This field holds no instant.", "Leave 'time' out.");
            }

            if (value.By is not null && target != RecordField.Unit)
            {
                rules.Refuse(field + ".by", "no_unit", "This is not the unit.", "Leave 'by' out.");
            }

            if (value.Optional && target is RecordField.Unit or RecordField.At or RecordField.Key)
            {
                rules.Refuse(field + ".optional", "must", "A record cannot do without it.", "Leave 'optional' out; without any 'at' the arrival counts, without any 'key' a hash.");
            }

            if (value.Multiply is { } factor && !double.IsFinite(factor))
            {
                rules.Refuse(field + ".multiply", "number", "The factor is no finite number.", "Give a finite number.");
            }
        }

        private void Origin(string field, ValueResource value)
        {
            if (value.Path is { } path && (payload != PayloadFormat.Json || (path.Length > 0 && path[0] != '/')))
            {
                rules.Refuse(
                    field + ".path", "path", payload != PayloadFormat.Json ? "Only a payload that is json has paths." : $"'{path}' is no JSON Pointer.",
                    payload != PayloadFormat.Json ? "Say \"payload\": true for the whole payload." : "Write it as /data/ended, /list/0; ~1 is a slash and ~0 a tilde within a name.");
            }

            string[] named = value.Level is { } level ? [level] : value.Template is { } template ? [.. TopicTemplate.Names(template)] : [];
            foreach (string name in named.Where(name => !levels.Contains(name, StringComparer.Ordinal)))
            {
                rules.Refuse(
                    field + (value.Level is null ? ".template" : ".level"), "unknown_level", $"No level of the topic is named '{name}'.",
                    levels.Count == 0 ? "Name levels in the topic, as in kitchens/{site}/{unit}." : $"The named levels are {string.Join(", ", levels)}.");
            }

            if (value.Constant is { ValueKind: JsonValueKind.Object or JsonValueKind.Array })
            {
                rules.Refuse(field + ".constant", "kind", "A constant is a text, a number, true or false.", "Give one of these.");
            }

            if (payload == PayloadFormat.Json && value.Payload == true)
            {
                rules.Refuse(field + ".payload", "path", "The payload is json.", "Name the value in it by 'path'.");
            }
        }
    }
}
