using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Visits;

/// <summary>What the scripts of close-outs tell: VisitScripts.en.json and its fellows. The scripts read the files themselves, under the keys in them
/// (<see cref="PageAssets.TextsUrl"/>), also where there is no signal; the type is there so that a text that is missing is found.</summary>
internal sealed record VisitScriptTexts
{
    internal static TextFile<VisitScriptTexts> File { get; } = new("VisitScripts");

    public required string KeepsNothing { get; init; }

    public required PluralText NotSaved { get; init; }

    public required string NotProven { get; init; }

    public required string NotProvenMend { get; init; }

    public required string PhotosTooLarge { get; init; }

    public required string PhotosTooLargeMend { get; init; }

    public required string NoPhoto { get; init; }

    public required string NoKnownPhoto { get; init; }

    public required string PhotoTooLarge { get; init; }

    public required string OnePhotoTooMany { get; init; }

    public required string TakeOut { get; init; }

    public required string Photo { get; init; }

    // By why it was not sent.
    public required IReadOnlyDictionary<string, string> Kept { get; init; }

    public required string SavedHere { get; init; }

    public required string SignIn { get; init; }

    public required string WhatWaits { get; init; }

    public required string Saving { get; init; }

    public required string WasRefused { get; init; }

    public required string DraftIsBack { get; init; }

    public required string StartAgain { get; init; }

    public required string ThrowAway { get; init; }

    // By why it was not sent, after the time at which it was saved.
    public required IReadOnlyDictionary<string, string> Waits { get; init; }

    public required string OfAnother { get; init; }

    // Before what the service said, in English.
    public required string NotAccepted { get; init; }

    public required string CloseOutOf { get; init; }

    // After Sent.
    public required string CloseOutOfInside { get; init; }

    public required string Saved { get; init; }

    public required PluralText SavedPhotos { get; init; }

    public required string Mend { get; init; }

    public required string SendNow { get; init; }

    public required string Delete { get; init; }

    public required string DeleteCloseOut { get; init; }

    public required string DeleteDraft { get; init; }

    public required string Sent { get; init; }

    public required string NothingWaits { get; init; }

    public required string ToBeSent { get; init; }

    public required string Drafts { get; init; }

    public required string DraftFor { get; init; }

    public required string LastChanged { get; init; }

    public required string GoOn { get; init; }

    public required string Forms { get; init; }
}
