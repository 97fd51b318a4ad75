using System.Text;
using System.Xml;

namespace Washwear.Api.Sheets;

/// <summary>Reads XML of a workbook part by part, with every text bounded.</summary>
internal static class XlsxXml
{
    /// <summary>Opens a part.</summary>
    /// <param name="part">The part.</param>
    public static XmlReader Open(Stream part) => XmlReader.Create(
        part, new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, IgnoreComments = true, IgnoreProcessingInstructions = true, CloseInput = true });

    /// <summary>Adds the text of the element that the reader stands on; the reader ends on its end.</summary>
    /// <param name="xml">The reader.</param>
    /// <param name="text">Takes the text, up to what a cell may hold.</param>
    /// <param name="chunk">Room to read into.</param>
    public static void AppendText(XmlReader xml, StringBuilder text, char[] chunk)
    {
        if (xml.IsEmptyElement)
        {
            return;
        }

        int depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.NodeType is not (XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace or XmlNodeType.Whitespace))
            {
                continue;
            }

            int read;
            while ((read = xml.ReadValueChunk(chunk, 0, chunk.Length)) > 0)
            {
                text.Append(chunk, 0, Math.Min(read, Math.Max(0, SheetLimits.CellCharacters - text.Length)));
            }
        }
    }
}

/// <summary>The words that the cells of a workbook share.</summary>
internal static class XlsxStrings
{
    /// <summary>Reads them all; how pages are read aloud (phonetic runs) is left out.</summary>
    /// <param name="part">The part; null: there are none.</param>
    public static IReadOnlyList<string> Read(Stream? part)
    {
        var words = new List<string>();
        if (part is null)
        {
            return words;
        }

        using XmlReader xml = XlsxXml.Open(part);
        char[] chunk = new char[1024];
        var text = new StringBuilder();
        while (xml.Read())
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "rPh")
            {
                xml.Skip();
            }

            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "t")
            {
                XlsxXml.AppendText(xml, text, chunk);
            }
            else if (xml.LocalName == "si" && (xml.NodeType == XmlNodeType.EndElement || xml.IsEmptyElement))
            {
                words.Add(text.ToString());
                text.Clear();
            }
        }

        return words;
    }
}
