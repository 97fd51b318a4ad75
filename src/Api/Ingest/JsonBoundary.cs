using System.Buffers;

namespace Washwear.Api.Ingest;

/// <summary>Rows are the elements of an array, or objects one after another. Whether each is good JSON is for its reader to say.</summary>
internal sealed class JsonBoundary : RowBoundary
{
    private static readonly SearchValues<byte> Structure = SearchValues.Create("\"[]{},"u8);
    private static readonly SearchValues<byte> StringEnds = SearchValues.Create("\"\\"u8);

    private Stage _stage;
    private bool _inArray;
    private bool _expectsElement;
    private bool _inString;
    private bool _escaped;
    private int _depth;

    private enum Stage
    {
        BeforeBody,
        BetweenRows,
        InRow,
        AfterBody,
    }

    /// <inheritdoc/>
    public override Cut Next(ReadOnlySpan<byte> chunk)
    {
        int skip = 0;
        while (_stage != Stage.InRow)
        {
            skip += LeadingSpace(chunk[skip..]);
            if (skip == chunk.Length)
            {
                return new Cut(skip, 0, 0, false);
            }

            if (!Enter(chunk[skip]))
            {
                return new Cut(chunk.Length, 0, 0, false);
            }

            skip += _stage == Stage.InRow ? 0 : 1;
        }

        return Row(chunk, skip);
    }

    /// <inheritdoc/>
    public override void End()
    {
        if (_inArray && _stage != Stage.AfterBody)
        {
            Broken ??= "the array does not end.";
        }
        else if (_stage == Stage.InRow)
        {
            Broken ??= "the object does not end.";
        }
        else if (_stage == Stage.BeforeBody)
        {
            Broken ??= "there is nothing in it.";
        }
    }

    private static int LeadingSpace(ReadOnlySpan<byte> chunk)
    {
        int length = chunk.IndexOfAnyExcept(" \t\r\n"u8);
        return length < 0 ? chunk.Length : length;
    }

    // Decides what the first byte that is no white space begins; false: nothing that could be read.
    private bool Enter(byte first)
    {
        switch (_stage)
        {
            case Stage.BeforeBody when first == '[':
                _inArray = true;
                _stage = Stage.BetweenRows;
                return true;
            case Stage.BeforeBody or Stage.BetweenRows when _inArray || first == '{':
                if (_inArray && first == ']' && !_expectsElement)
                {
                    _stage = Stage.AfterBody;
                    return true;
                }

                _stage = Stage.InRow;
                return true;
            default:
                Broken = _stage == Stage.AfterBody ? "something follows the end of the array." : "it begins neither with { nor with [.";
                return false;
        }
    }

    private Cut Row(ReadOnlySpan<byte> chunk, int start)
    {
        int index = start;
        while (index < chunk.Length)
        {
            if (_inString)
            {
                index = PassString(chunk, index);
                continue;
            }

            int found = chunk[index..].IndexOfAny(Structure);
            if (found < 0)
            {
                break;
            }

            index += found;
            byte current = chunk[index];
            if (_inArray && _depth == 0 && (current is (byte)',' or (byte)']'))
            {
                return EndOfElement(start, index, current);
            }

            index++;
            Note(current);
            if (!_inArray && _depth == 0 && current == '}')
            {
                _stage = Stage.BetweenRows;
                return new Cut(start, index - start, 0, true);
            }
        }

        return new Cut(start, chunk.Length - start, 0, false);
    }

    private Cut EndOfElement(int start, int index, byte terminator)
    {
        _expectsElement = terminator == ',';
        _stage = _expectsElement ? Stage.BetweenRows : Stage.AfterBody;
        return new Cut(start, index - start, 1, true);
    }

    private void Note(byte current)
    {
        switch (current)
        {
            case (byte)'"':
                _inString = true;
                break;
            case (byte)'{' or (byte)'[':
                _depth++;
                break;
            case (byte)'}' or (byte)']':
                _depth = Math.Max(0, _depth - 1);
                break;
        }
    }

    private int PassString(ReadOnlySpan<byte> chunk, int index)
    {
        if (_escaped)
        {
            _escaped = false;
            return index + 1;
        }

        int found = chunk[index..].IndexOfAny(StringEnds);
        if (found < 0)
        {
            return chunk.Length;
        }

        _escaped = chunk[index + found] == '\\';
        _inString = _escaped;
        return index + found + 1;
    }
}
