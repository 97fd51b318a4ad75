namespace Washwear.Dashboard.Shell;

/// <summary>The page that the navigation marks as the present one.</summary>
public enum NavPage
{
    /// <summary>None of them.</summary>
    None,

    /// <summary>What needs somebody today.</summary>
    Today,

    /// <summary>Cleaning.</summary>
    Cleaning,

    /// <summary>Kitchens.</summary>
    Sites,

    /// <summary>Alerts.</summary>
    Alerts,

    /// <summary>Failures in time.</summary>
    Failures,

    /// <summary>Planning.</summary>
    Planning,

    /// <summary>Approvals.</summary>
    Approvals,

    /// <summary>Quality of repairs.</summary>
    Repairs,

    /// <summary>Part life.</summary>
    PartLife,

    /// <summary>Units.</summary>
    Units,

    /// <summary>What changed in the last 24 hours.</summary>
    Digest,

    /// <summary>When parts are best replaced.</summary>
    PlanParts,

    /// <summary>What to stock.</summary>
    PlanStock,

    /// <summary>Failures to be expected.</summary>
    PlanForecast,

    /// <summary>The plan with other terms.</summary>
    WhatIf,

    /// <summary>Close-outs on this device.</summary>
    OnDevice,

    /// <summary>Spreadsheets.</summary>
    Import,

    /// <summary>Shared links.</summary>
    Links,

    /// <summary>The API reference.</summary>
    Reference,

    /// <summary>People.</summary>
    People,

    /// <summary>Keys of programs.</summary>
    Keys,

    /// <summary>How the installation is kept.</summary>
    Upkeep,

    /// <summary>Who did what.</summary>
    Audit,

    /// <summary>Operators.</summary>
    Operators,
}
