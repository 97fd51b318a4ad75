using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>A technician closes a visit on a phone, in a cellar: the network goes, the page is closed, and nothing is lost or sent twice.</summary>
public sealed class VisitTests : VisitOnAPhone
{
    [Fact(Timeout = Patience)]
    public async Task A_visit_closed_without_a_signal_survives_closing_the_page_and_is_sent_once_when_the_signal_is_back()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await OpenFormAsync(page, "OVEN-1");
        Assert.True(await page.IsCheckedAsync("input[name=fault][value=E21]"));
        Assert.True(await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth") <= PhoneWidth);

        await KeepAsync(page, "form");

        // Half of it is entered, then the signal goes, and the page is closed.
        await TapAsync(page, "Checks");
        await ChooseAsync(page, "check/turn-impeller/result", "fail");
        await page.ClickAsync(".entry:has([name='check/turn-impeller/reading']) summary");
        await page.FillAsync("[name='check/turn-impeller/reading']", "1,5");
        await page.SelectOptionAsync("[name='check/turn-impeller/unit']", "A");
        await TapAsync(page, "Parts");
        await page.ClickAsync("details.part:has-text('Wash pump') > summary");
        await ChooseAsync(page, "part/wash-pump/out", "found_failed");
        await page.SetInputFilesAsync("input[name=photo]", new FilePayload { Name = "pump.png", MimeType = "image/png", Buffer = Picture });
        await page.Locator(".photo-list img").WaitForAsync();
        await KeepAsync(page, "half");
        await CutAsync(phone);
        await page.FillAsync("textarea[name=note]", "Scale in the pump.");
        await UntilAsync(page, "async () => (await Outbox.all('drafts')).some(draft => draft.fields.some(field => field[1].startsWith('Scale')))");
        await page.CloseAsync();

        // Opened again without a signal, everything is there; the rest is entered and saved.
        page = await phone.NewPageAsync();
        await page.GotoAsync(new Uri(Wire.Address, "/visits/new?unit=OVEN-1").ToString());
        await page.Locator("#draft-note").WaitForAsync();
        Assert.Equal("Scale in the pump.", await page.InputValueAsync("textarea[name=note]"));
        Assert.True(await page.IsCheckedAsync("input[name='part/wash-pump/out'][value=found_failed]"));
        Assert.Equal(1, await page.Locator(".photo-list img").CountAsync());
        await ChooseAsync(page, "part/wash-pump/mode", "seized");
        await ChooseAsync(page, "part/wash-pump/in", "P/100-2");
        await TapAsync(page, "Proofs");
        await ChooseAsync(page, "proof/no-leak", "pass");
        await ChooseAsync(page, "outcome", "proven");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#problems").WaitForAsync();
        await KeepAsync(page, "not-proven");
        Assert.Contains("Full wash completed", await page.InnerTextAsync("form .field-error"), StringComparison.Ordinal);
        await ChooseAsync(page, "outcome", "repaired_not_proven");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#kept").WaitForAsync();
        await KeepAsync(page, "kept");
        Assert.Contains("no signal", await page.InnerTextAsync("#kept"), StringComparison.Ordinal);
        Assert.Contains("1 close-out waits for a signal", await page.InnerTextAsync("#outbox-strip"), StringComparison.Ordinal);
        await page.CloseAsync();
        Assert.Equal(0, await CountAsync("visit"));

        // Any page tells of it; without a signal those that are not kept say what there is.
        page = await phone.NewPageAsync();
        await page.GotoAsync(new Uri(Wire.Address, "/units/OVEN-1").ToString());
        await page.Locator("#on-device li").First.WaitForAsync();
        await KeepAsync(page, "on-device");
        Assert.Contains("Close-out of OVEN-1", await page.InnerTextAsync("#on-device"), StringComparison.Ordinal);

        // The signal is back: it is sent by itself, by two pages at the same time, once.
        IPage second = await phone.NewPageAsync();
        await second.GotoAsync(new Uri(Wire.Address, "/visits").ToString());
        await MendAsync(phone);
        await EmptyAsync(page);
        await page.ReloadAsync();
        await second.ReloadAsync();
        Assert.Equal(1, await CountAsync("visit"));
        Assert.Equal(2, await CountAsync("part_change"));

        // Its consequences show on the unit's page and in part life.
        await page.GotoAsync(new Uri(Wire.Address, "/units/OVEN-1").ToString());
        Assert.Equal(0, await page.Locator("#outbox-strip").CountAsync());
        await KeepAsync(page, "unit");
        await page.ClickAsync("section:has(#visits) a");
        await KeepAsync(page, "receipt");
        string receipt = await page.InnerTextAsync("main");
        Assert.Contains("Repaired, not proven", receipt, StringComparison.Ordinal);
        Assert.Contains("Turn the impeller by hand: fail, 1.5\u00A0A", receipt, StringComparison.Ordinal);
        Assert.Contains("Scale in the pump.", receipt, StringComparison.Ordinal);
        Assert.True(await page.EvaluateAsync<bool>("() => document.querySelector('.photos img').decode().then(() => true)"));
        await page.GotoAsync(new Uri(Wire.Address, "/part-life/lives?position=wash-pump").ToString());
        Assert.Contains("eized", await page.InnerTextAsync("main"), StringComparison.Ordinal);
        JsonElement life = await Api.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump");
        Assert.Equal(1, life.GetProperty("basis").GetProperty("failures").GetInt32());
    }

    [Fact(Timeout = Patience)]
    public async Task A_phone_that_reads_German_is_told_in_German_what_it_keeps_without_a_signal_too()
    {
        await using IBrowserContext phone = await SignInAsync(locale: "de-DE");
        IPage page = await phone.NewPageAsync();
        await page.GotoAsync(AddressOf("/visits/new?unit=OVEN-1"));
        await KeptAsync(page);
        await KeepAsync(page, "german-form");
        await CutAsync(phone);
        await page.ReloadAsync();
        await ChooseAsync(page, "outcome", "proven");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#problems").WaitForAsync();
        Assert.Contains("Noch nicht gespeichert: 1 Sache ist zu berichtigen.", await page.InnerTextAsync("#problems"), StringComparison.Ordinal);
        Assert.Contains("Reinigung vollständig durchgelaufen", await page.InnerTextAsync("form .field-error"), StringComparison.Ordinal);
        Assert.Equal("de", await page.GetAttributeAsync("form .field-error", "lang"));
        await ChooseAsync(page, "outcome", "waiting_part");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#kept").WaitForAsync();
        Assert.Contains("Es ist kein Netz da", await page.InnerTextAsync("#kept"), StringComparison.Ordinal);
        await KeepAsync(page, "german-kept");
        await page.GotoAsync(AddressOf("/units/OVEN-1"));
        await page.Locator("#on-device li").First.WaitForAsync();
        Assert.Contains("Abschluss für OVEN-1", await page.InnerTextAsync("#on-device"), StringComparison.Ordinal);
        Assert.Contains("wartet auf Netz", await page.InnerTextAsync("#on-device"), StringComparison.Ordinal);
        await KeepAsync(page, "german-on-device");
        await MendAsync(phone);
        await EmptyAsync(page);
        Assert.Equal(1, await CountAsync("visit"));
    }

    [Fact(Timeout = Patience)]
    public async Task Going_back_after_saving_leads_to_no_filled_form_and_a_correction_without_a_signal_stands_for_what_was_saved()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await OpenFormAsync(page, "OVEN-1");
        await TapAsync(page, "Parts");
        await page.ClickAsync("details.part:has-text('Wash pump') > summary");
        await ChooseAsync(page, "part/wash-pump/out", "failed");
        await ChooseAsync(page, "part/wash-pump/in", "P/100-2");
        await ChooseAsync(page, "outcome", "repaired_not_proven");
        await page.FillAsync("textarea[name=note]", "Left pump.");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#saved").WaitForAsync();
        await page.GoBackAsync();
        Assert.EndsWith("/units/OVEN-1", page.Url, StringComparison.Ordinal);
        await page.GoForwardAsync();

        // The same unit's plain form, kept on the phone, is not the one that corrects.
        await page.ClickAsync("a:has-text('Correct this close-out')");
        await page.Locator("form#close-out").WaitForAsync();
        Assert.Equal("Left pump.", await page.InputValueAsync("textarea[name=note]"));
        Assert.True(await page.IsCheckedAsync("input[name='part/wash-pump/out'][value=failed]"));
        await CutAsync(phone);
        await page.FillAsync("textarea[name=note]", "Right pump.");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#kept").WaitForAsync();
        await page.GotoAsync(AddressOf("/visits/new?unit=OVEN-1"));
        await page.Locator("form#close-out").WaitForAsync();
        Assert.Equal(string.Empty, await page.InputValueAsync("textarea[name=note]"));
        Assert.Equal(string.Empty, await page.InputValueAsync("input[name=corrects]"));
        await MendAsync(phone);
        await EmptyAsync(page);

        JsonElement life = await Api.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump");
        Assert.Equal(1, life.GetProperty("basis").GetProperty("failures").GetInt32());
        await page.GotoAsync(AddressOf("/units/OVEN-1"));
        await page.ClickAsync("section:has(#visits) a");
        Assert.Contains("Right pump.", await page.InnerTextAsync("main"), StringComparison.Ordinal);
    }

    [Fact(Timeout = Patience)]
    public async Task What_another_page_sends_is_told_as_saved_where_it_was_filled_in()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await OpenFormAsync(page, "OVEN-1");
        IPage other = await phone.NewPageAsync();
        await other.GotoAsync(AddressOf("/units/OVEN-1"));

        // The browser is not told of the wire, so that this page does not try before the other one has.
        Wire.Cut();
        await ChooseAsync(page, "outcome", "no_fault_found");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#kept").WaitForAsync();
        Wire.Mend();
        await other.EvaluateAsync("() => Outbox.sendAll()");
        Assert.Equal(1, await CountAsync("visit"));
        await page.Locator("#saved").WaitForAsync(new() { Timeout = Patience });
        Assert.Contains("no fault found", await page.InnerTextAsync("main"), StringComparison.OrdinalIgnoreCase);
    }

    [Fact(Timeout = Patience)]
    public async Task Signed_out_meanwhile_it_is_kept_asks_its_author_to_sign_in_and_goes_then()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await SaveWithoutSignalAsync(phone, page, "no_fault_found");
        await phone.ClearCookiesAsync();
        await MendAsync(phone);

        await page.GotoAsync(new Uri(Wire.Address, "/visits").ToString());
        Assert.Contains("/sign-in", page.Url, StringComparison.Ordinal);
        await page.Locator("#outbox-strip").WaitForAsync();
        Assert.Contains("1 close-out by admin waits on this device: sign in as admin to send it.", await page.InnerTextAsync("#outbox-strip"), StringComparison.Ordinal);
        Assert.Equal(0, await CountAsync("visit"));
        await Chromium.SignInWithKeyAsync(page, Key);
        await EmptyAsync(page);
        Assert.Equal(1, await CountAsync("visit"));
    }

    [Fact(Timeout = Patience)]
    public async Task What_the_service_refuses_stays_on_the_phone_with_its_problem_and_can_be_mended()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await SaveWithoutSignalAsync(phone, page, "waiting_part");
        await PutUnitAsync(",\"decommissioned_on\":\"2024-01-31\"");
        await MendAsync(phone);

        await page.GotoAsync(new Uri(Wire.Address, "/").ToString());
        await page.Locator("#outbox-strip:has-text('was not accepted')").WaitForAsync();
        await page.GotoAsync(new Uri(Wire.Address, "/visits/new?unit=OVEN-2").ToString());
        await page.Locator("#problems").WaitForAsync();
        Assert.Contains("left on 2024-01-31", await page.InnerTextAsync("#problems"), StringComparison.Ordinal);
        Assert.True(await page.IsCheckedAsync("input[name=outcome][value=waiting_part]"));
        Assert.Equal("Kept in the cellar.", await page.InputValueAsync("textarea[name=note]"));
        Assert.Equal(0, await CountAsync("visit"));

        await PutUnitAsync(string.Empty);
        await page.ClickAsync(".save-bar button");
        await page.Locator("#saved").WaitForAsync();
        await EmptyAsync(page);
        Assert.Equal(1, await CountAsync("visit"));
    }

    [Fact(Timeout = Patience)]
    public async Task Signing_out_says_what_was_not_sent_keeps_it_and_takes_the_kept_forms_away()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await SaveWithoutSignalAsync(phone, page, "waiting_part");
        await PutUnitAsync(",\"decommissioned_on\":\"2024-01-31\"");
        await MendAsync(phone);
        await page.GotoAsync(new Uri(Wire.Address, "/").ToString());
        await page.Locator("#outbox-strip:has-text('was not accepted')").WaitForAsync();
        var asked = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        bool agree = false;
        page.Dialog += async (_, dialog) =>
        {
            asked.TrySetResult(dialog.Message);
            await (agree ? dialog.AcceptAsync() : dialog.DismissAsync());
        };
        await page.ClickAsync("form.sign-out button");
        Assert.Contains("1 close-out that has not been sent", await asked.Task.WaitAsync(TimeSpan.FromSeconds(20)), StringComparison.Ordinal);
        await UntilAsync(page, "async () => (await (await caches.open(Outbox.cacheName)).keys()).some(each => each.url.includes('/visits/new'))");
        Assert.Equal("/", new Uri(page.Url).AbsolutePath);

        agree = true;
        await page.ClickAsync("form.sign-out button");
        await Chromium.AtAsync(page, "/sign-in");
        await UntilAsync(page, "async () => (await Outbox.all('outbox')).length === 1");
        await UntilAsync(page, "async () => !(await (await caches.open(Outbox.cacheName)).keys()).some(each => each.url.includes('/visits'))");
    }

    [Fact(Timeout = Patience)]
    public async Task Without_scripts_the_form_is_sent_as_it_is_and_what_is_wrong_stands_in_it()
    {
        await using IBrowserContext phone = await SignInAsync(script: false);
        IPage page = await phone.NewPageAsync();
        await page.GotoAsync(new Uri(Wire.Address, "/visits/new?unit=OVEN-1").ToString());
        await ChooseAsync(page, "outcome", "proven");
        await page.FillAsync("textarea[name=note]", "Sent without scripts.");
        await page.ClickAsync(".save-bar button");
        Assert.Contains("not proven yet", await page.InnerTextAsync("form .field-error"), StringComparison.Ordinal);
        Assert.Equal("Sent without scripts.", await page.InputValueAsync("textarea[name=note]"));

        await ChooseAsync(page, "outcome", "repaired_not_proven");
        await page.SetInputFilesAsync("input[name=photo]", new FilePayload[]
        {
            new() { Name = "a.png", MimeType = "image/png", Buffer = Picture }, new() { Name = "b.png", MimeType = "image/png", Buffer = [1, 2, 3] },
        });
        await page.ClickAsync(".save-bar button");
        Assert.Contains("Saved. You may go.", await page.InnerTextAsync("#saved"), StringComparison.Ordinal);
        Assert.Contains("One file was not kept", await page.InnerTextAsync("main"), StringComparison.Ordinal);
        Assert.Equal(1, await page.Locator(".photos img").CountAsync());
        Assert.Equal(1, await CountAsync("visit"));
    }

    [Theory(Timeout = 3 * Patience)]
    [InlineData(PhoneWidth, false)]
    [InlineData(PhoneWidth, true)]
    [InlineData(1280, false)]
    public async Task Axe_finds_nothing_to_mend_in_the_form_its_problems_its_receipt_and_the_outbox(int width, bool dark)
    {
        await using IBrowserContext device = await SignInAsync(width, dark);
        IPage page = await device.NewPageAsync();
        await OpenFormAsync(page, "OVEN-1");
        await page.EvaluateAsync("() => document.querySelectorAll('details').forEach(each => each.open = true)");
        await AxeAsync(page);
        await KeepAsync(page, $"open-{width}-{(dark ? "dark" : "light")}");
        Assert.Empty(await page.EvaluateAsync<string[]>(SmallTargets));
        await ChooseAsync(page, "outcome", "proven");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#problems").WaitForAsync();
        await AxeAsync(page);
        await ChooseAsync(page, "outcome", "waiting_part");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#saved").WaitForAsync();
        await AxeAsync(page);
        await KeepAsync(page, $"saved-{width}-{(dark ? "dark" : "light")}");
        await OpenFormAsync(page, "OVEN-2");
        await page.FillAsync("textarea[name=note]", "A draft.");
        await UntilAsync(page, "async () => (await Outbox.all('drafts')).length === 1");
        await page.GotoAsync(new Uri(Wire.Address, "/visits").ToString());
        await page.Locator("#on-device h3").First.WaitForAsync();
        await AxeAsync(page);
    }

    // What a thumb in a glove has to hit, and its size where it is below 48 pixels.
    private const string SmallTargets = """
        [...document.querySelectorAll('#close-out .segment, #close-out summary, #close-out input:not([type=hidden], [type=radio], [type=checkbox]), #close-out select, .save-bar button')]
          .map(each => ({ each, box: each.getBoundingClientRect() })).filter(({ box }) => box.height > 0 && (box.height < 47.5 || box.width < 47.5))
          .map(({ each, box }) => each.outerHTML.slice(0, 80) + ' ' + box.width + ' x ' + box.height)
        """;

    private static async Task AxeAsync(IPage page)
    {
        string[] faults = await Axe.FaultsAsync(page);
        Assert.True(faults.Length == 0, page.Url + "\n" + string.Join('\n', faults));
    }

    // OVEN-2, closed in a cellar by two taps and a note.
    private async Task SaveWithoutSignalAsync(IBrowserContext phone, IPage page, string outcome)
    {
        await OpenFormAsync(page, "OVEN-2");
        await CutAsync(phone);
        await ChooseAsync(page, "outcome", outcome);
        await page.FillAsync("textarea[name=note]", "Kept in the cellar.");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#kept").WaitForAsync();
    }

    private async Task PutUnitAsync(string more)
    {
        using HttpResponseMessage answer = await Api.PutAsync("/v1/units/OVEN-2", new StringContent(
            "{\"site\":\"pier-4\",\"model\":\"T10\",\"serial\":\"S/2\",\"commissioned_on\":\"2023-05-01\"" + more + "}", Encoding.UTF8, "application/json"));
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }
}
