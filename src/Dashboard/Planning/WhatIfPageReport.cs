namespace Washwear.Dashboard.Planning;

/// <summary>A position that can be tried with other costs.</summary>
/// <param name="Position">Its code.</param>
/// <param name="Name">Its name.</param>
public sealed record WhatIfPosition(string Position, string Name);

/// <summary>A supplier that can be tried with another lead time.</summary>
/// <param name="Supplier">Its code.</param>
/// <param name="Name">Its name.</param>
/// <param name="LeadTimeDays">Its lead time as things are, days.</param>
public sealed record WhatIfSupplier(string Supplier, string Name, double LeadTimeDays);

/// <summary>The form that tries other costs, lead times and intervals, and what came of it.</summary>
/// <param name="Positions">Positions on offer.</param>
/// <param name="Suppliers">Suppliers on offer.</param>
/// <param name="LockoutHourCost">The price of an hour locked out as things are.</param>
/// <param name="Entered">What was entered, by the name of its field; empty: nothing yet.</param>
/// <param name="Result">What came of it; null: nothing was tried, or something is wrong.</param>
/// <param name="Problems">What is wrong, a sentence each.</param>
public sealed record WhatIfPageReport(
    IReadOnlyList<WhatIfPosition> Positions,
    IReadOnlyList<WhatIfSupplier> Suppliers,
    double LockoutHourCost,
    IReadOnlyDictionary<string, string> Entered,
    WhatIfReport? Result,
    IReadOnlyList<string> Problems);
