using System.Numerics;

namespace Washwear.Api.Ingest;

/// <summary>What a field of a row holds before anyone knows what it should hold.</summary>
internal enum SlotKind : byte
{
    Absent,
    Text,
    Number,
    True,
    False,
    Nested,
    List,
}

/// <summary>A value as it was written.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Text">The text, if it is one; a list as the JSON that it was written in.</param>
/// <param name="Number">The number, if it is one; infinite if it was too large to hold.</param>
internal readonly record struct Slot(SlotKind Kind, string? Text = null, double Number = 0);

/// <summary>The fields of one row as written, reused from row to row. Not safe for concurrent use.</summary>
internal sealed class RecordDraft
{
    private readonly Slot[] _slots = new Slot[RecordFields.Names.Count];

    /// <summary>Fields that hold something, as a set of bits.</summary>
    public ulong Given { get; private set; }

    /// <summary>Whether every value is a text, so that numbers and yes or no are written in texts as well.</summary>
    public bool TextOnly { get; private set; }

    /// <summary>What a field holds.</summary>
    /// <param name="field">The field.</param>
    public Slot this[RecordField field] => Has(field) ? _slots[(int)field] : default;

    /// <summary>Begins a new row.</summary>
    /// <param name="textOnly">Whether all values will be texts.</param>
    public void Clear(bool textOnly)
    {
        Given = 0;
        TextOnly = textOnly;
    }

    /// <summary>Whether a field holds something.</summary>
    /// <param name="field">The field.</param>
    public bool Has(RecordField field) => (Given & (1UL << (int)field)) != 0;

    /// <summary>Notes what a field holds.</summary>
    /// <param name="field">The field.</param>
    /// <param name="value">What it holds; nothing is noted for an absent value.</param>
    public void Set(RecordField field, Slot value)
    {
        if (value.Kind == SlotKind.Absent)
        {
            return;
        }

        Given |= 1UL << (int)field;
        _slots[(int)field] = value;
    }

    /// <summary>The text of a field, if it holds one; for naming a row that is about to be refused.</summary>
    /// <param name="field">The field.</param>
    public string? TextOrNull(RecordField field) => this[field].Text;

    /// <summary>The first field that holds something and is not among those allowed.</summary>
    /// <param name="allowed">The fields allowed, as a set of bits.</param>
    public RecordField? FirstOutside(ulong allowed)
    {
        ulong outside = Given & ~allowed;
        return outside == 0 ? null : (RecordField)BitOperations.TrailingZeroCount(outside);
    }
}
