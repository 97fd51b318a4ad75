using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Alerts;

/// <summary>Texts of alerts: Alerts.en.json and its fellows. A name is the text's key.</summary>
internal sealed record AlertTexts
{
    internal static TextFile<AlertTexts> File { get; } = new("Alerts");

    internal static AlertTexts Now => File.Now;

    public required string Alerts { get; init; }

    public required string ByState { get; init; }

    // Each follows a number.
    public required IReadOnlyDictionary<AlertState, string> States { get; init; }

    public required string AllNewest { get; init; }

    public required IReadOnlyDictionary<AlertState, string> StateNewest { get; init; }

    public required string None { get; init; }

    public required string NoneYet { get; init; }

    public required string Caption { get; init; }

    public required string WhatChanged { get; init; }

    public required string Counted { get; init; }

    public required string Method { get; init; }

    public required string LastDay { get; init; }

    public required string Waiting { get; init; }

    public required DigestTexts Parts { get; init; }

    public required AlertTableTexts Table { get; init; }

    public required string GettingWorse { get; init; }

    public required AlertFindingTexts Finding { get; init; }

    public required AlertDayTexts Day { get; init; }
}

/// <summary>Parts of the page of the last 24 hours.</summary>
internal sealed record DigestTexts
{
    public required string Opened { get; init; }

    public required string NoneOpened { get; init; }

    public required string Closed { get; init; }

    public required string NoneClosed { get; init; }

    public required string Longest { get; init; }

    public required string NoneOpen { get; init; }

    public required string NoneOlder { get; init; }

    public required PluralText More { get; init; }
}

/// <summary>The table of alerts.</summary>
internal sealed record AlertTableTexts
{
    public required string Unit { get; init; }

    public required string Alert { get; init; }

    public required string Found { get; init; }

    public required string Opened { get; init; }

    public required string Became { get; init; }

    public required string Rule { get; init; }

    public required string ClosedAt { get; init; }

    public required string SeenAt { get; init; }

    public required string Seen { get; init; }

    // Follows the button's words for those who hear them.
    public required string SeenWhat { get; init; }

    public required string Nobody { get; init; }

    // Before what was found, which is kept in English.
    public required string Since { get; init; }
}

/// <summary>How many alerts wait.</summary>
internal sealed record AlertFindingTexts
{
    public required string None { get; init; }

    public required PluralText AllSeen { get; init; }

    public required PluralText Waiting { get; init; }

    public required PluralText WaitingAndSeen { get; init; }
}

/// <summary>What changed in a day.</summary>
internal sealed record AlertDayTexts
{
    public required string Nothing { get; init; }

    public required PluralText NothingButOpen { get; init; }

    public required PluralText NoneOpen { get; init; }

    public required PluralText SomeOpen { get; init; }
}
