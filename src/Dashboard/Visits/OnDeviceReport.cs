namespace Washwear.Dashboard.Visits;

/// <summary>What the page of close-outs on a device knows before its script looks: only who reads.</summary>
/// <param name="Reader">Name of the reader, whose close-outs are sent; null: nobody is signed in.</param>
public sealed record OnDeviceReport(string? Reader);
