// Lists what this device keeps: close-outs that wait, drafts, and forms that open without a signal.
(() => {
  const place = document.getElementById("on-device");
  if (!place || !("indexedDB" in window)) {
    return;
  }
  const { element } = OutboxPage;
  const when = at => new Date(at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
  const formOf = unit => Outbox.closeOutUrl + "?unit=" + encodeURIComponent(unit);
  const why = {
    no_signal: "waits for a signal", signed_out: "waits for you to sign in", another_person: "waits for its author to sign in",
    not_allowed: "your key may not send records", server: "the service did not take it; it is tried again",
  };

  function told(entry) {
    if (entry.reader !== OutboxPage.reader) {
      return "by " + entry.reader + "; sign in as " + entry.reader + " to send it";
    }
    return entry.state === "refused" ? "not accepted: " + entry.problems.map(problem => problem.detail).join(" ") : why[entry.why] ?? "waits";
  }

  function row(title, text, parts) {
    const item = element("li", "");
    const actions = element("p", "", { class: "actions" });
    actions.append(...parts);
    item.append(element("h3", title), element("p", text), actions);
    return item;
  }

  function button(text, work) {
    const made = element("button", text, { type: "button", class: "quiet" });
    made.addEventListener("click", work);
    return made;
  }

  function deletes(store, id, title) {
    return button("Delete", async () => {
      if (window.confirm("Delete " + title + " from this device? It has not been sent.")) {
        await (store === "drafts" ? Outbox.removeDraft(id) : Outbox.remove(store, id));
        await OutboxPage.show();
      }
    });
  }

  function waiting(entry) {
    const mine = entry.reader === OutboxPage.reader;
    const parts = !mine ? [] : entry.state === "refused"
      ? [element("a", "Mend it", { href: formOf(entry.unit), class: "button" })]
      : [button("Send now", () => OutboxPage.send())];
    const title = "Close-out of " + entry.unit;
    return row(title, "Saved " + when(entry.savedAt) + (entry.photos.length > 0 ? ", with " + entry.photos.length + (entry.photos.length === 1 ? " photo" : " photos") : "") + "; " + told(entry) + ".",
      [...parts, ...(mine ? [deletes("outbox", entry.key, title)] : [])]);
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
        const text = element("p", "Sent: ", { class: "callout", role: "status" });
        text.append(element("a", "close-out of " + entry.unit, { href: entry.receipt }));
        return text;
      }),
      ...(entries.length === 0 ? [element("p", "No close-out waits here. Everything that was saved has been sent.", { class: "nothing" })] : []),
      ...list("To be sent", entries.map(waiting)),
      ...list("Drafts", drafts.map(each => row("Draft for " + each.unit, "Last changed " + when(each.at) + ".",
        [element("a", "Go on", { href: formOf(each.unit), class: "button" }), deletes("drafts", each.id, "the draft for " + each.unit)]))),
      ...list("Forms that open without a signal", forms.map(unit => {
        const item = element("li", "");
        item.append(element("a", unit, { href: formOf(unit) }));
        return item;
      })));
  }

  OutboxPage.onChange((entries, sent) => show(entries, sent).catch(error => console.info("Nothing to list: " + error)));
  OutboxPage.show();
})();
