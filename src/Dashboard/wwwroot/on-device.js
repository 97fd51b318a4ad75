// Lists what this device keeps: close-outs that wait, drafts, and forms that open without a signal.
(() => {
  const place = document.getElementById("on-device");
  if (!place || !("indexedDB" in window)) {
    return;
  }
  const { element } = OutboxPage;
  const when = at => new Date(at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
  const formOf = (unit, corrects) => Outbox.closeOutUrl + "?unit=" + encodeURIComponent(unit) + (corrects ? "&corrects=" + encodeURIComponent(corrects) : "");

  // What became of a close-out that waits, in words and elements.
  function told(entry) {
    if (entry.reader !== OutboxPage.reader) {
      return [Texts.fill(VisitTexts.of_another, { reader: entry.reader })];
    }
    return entry.state === "refused"
      ? [VisitTexts.not_accepted, ...entry.problems.map(OutboxPage.told).flatMap(problem => [" ", element("span", problem.detail, { lang: problem.lang })])]
      : [VisitTexts.waits[entry.why] ?? VisitTexts.waits.no_signal];
  }

  function row(title, words, parts) {
    const item = element("li", "");
    const text = element("p", "");
    text.append(...words);
    const actions = element("p", "", { class: "actions" });
    actions.append(...parts);
    item.append(element("h3", title), text, actions);
    return item;
  }

  function button(text, work) {
    const made = element("button", text, { type: "button", class: "quiet" });
    made.addEventListener("click", work);
    return made;
  }

  function deletes(store, id, question) {
    return button(VisitTexts.delete, async () => {
      if (window.confirm(question)) {
        await (store === "drafts" ? Outbox.removeDraft(id) : Outbox.remove(store, id));
        await OutboxPage.show();
      }
    });
  }

  function waiting(entry) {
    const mine = entry.reader === OutboxPage.reader;
    const parts = !mine ? [] : entry.state === "refused"
      ? [element("a", VisitTexts.mend, { href: formOf(entry.unit, entry.corrects), class: "button" })]
      : [button(VisitTexts.send_now, () => OutboxPage.send())];
    const time = when(entry.savedAt);
    const saved = entry.photos.length > 0 ? Texts.counted(VisitTexts.saved_photos, entry.photos.length, { time }) : Texts.fill(VisitTexts.saved, { time });
    return row(Texts.fill(VisitTexts.close_out_of, { unit: entry.unit }), [saved, "; ", ...told(entry), entry.state === "refused" ? "" : "."],
      [...parts, ...(mine ? [deletes("outbox", entry.key, Texts.fill(VisitTexts.delete_close_out, { unit: entry.unit }))] : [])]);
  }

  function list(heading, items) {
    if (items.length === 0) {
      return [];
    }
    const rows = element("ul", "", { class: "visit-list" });
    rows.append(...items);
    return [element("h2", heading), rows];
  }

  async function keptForms() {
    if (!("caches" in window)) {
      return [];
    }
    const cache = await caches.open(Outbox.cacheName);
    return (await cache.keys()).map(request => new URL(request.url)).filter(url => url.pathname === Outbox.closeOutUrl).map(url => url.searchParams.get("unit"));
  }

  async function show(entries, sent = []) {
    const drafts = (await Outbox.all("drafts")).filter(each => each.reader === OutboxPage.reader);
    const forms = await keptForms();
    place.replaceChildren(
      ...sent.map(entry => {
        const text = element("p", VisitTexts.sent + " ", { class: "callout", role: "status" });
        text.append(element("a", Texts.fill(VisitTexts.close_out_of_inside, { unit: entry.unit }), { href: entry.receipt }));
        return text;
      }),
      ...(entries.length === 0 ? [element("p", VisitTexts.nothing_waits, { class: "nothing" })] : []),
      ...list(VisitTexts.to_be_sent, entries.map(waiting)),
      ...list(VisitTexts.drafts, drafts.map(each => row(Texts.fill(VisitTexts.draft_for, { unit: each.unit }), [Texts.fill(VisitTexts.last_changed, { time: when(each.at) })],
        [element("a", VisitTexts.go_on, { href: formOf(each.unit, each.corrects), class: "button" }), deletes("drafts", each.id, Texts.fill(VisitTexts.delete_draft, { unit: each.unit }))]))),
      ...list(VisitTexts.forms, forms.map(unit => {
        const item = element("li", "");
        item.append(element("a", unit, { href: formOf(unit) }));
        return item;
      })));
  }

  OutboxPage.onChange((entries, sent) => show(entries, sent).catch(error => console.info("Nothing to list: " + error)));
  OutboxPage.show();
})();
