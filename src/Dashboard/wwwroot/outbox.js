// Tells on every page what waits on this phone, sends it when there is a signal, and takes care at signing out.
const OutboxPage = (() => {
  const retryMs = 30000;
  const reader = document.body.dataset.reader ?? null;
  const listeners = [];
  const kept = { unsent: 0, drafts: 0 };

  function element(name, text, attributes = {}) {
    const made = document.createElement(name);
    made.textContent = text;
    for (const [key, value] of Object.entries(attributes)) {
      made.setAttribute(key, value);
    }
    return made;
  }

  function words(entries) {
    const mine = entries.filter(entry => entry.reader === reader);
    const waiting = mine.filter(entry => entry.state === "waiting");
    const refused = mine.filter(entry => entry.state === "refused");
    const others = entries.filter(entry => entry.reader !== reader);
    const told = [];
    if (waiting.length > 0) {
      told.push(Texts.counted(waiting.some(entry => entry.why === "signed_out") ? FrameTexts.waits_for_sign_in : FrameTexts.waits_for_signal, waiting.length));
    }
    if (refused.length > 0) {
      told.push(Texts.counted(FrameTexts.refused, refused.length));
    }
    if (others.length > 0) {
      const names = [...new Set(others.map(entry => entry.reader))].join(", ");
      told.push(Texts.counted(FrameTexts.of_others, others.length, { names }));
    }
    return told.join(" ");
  }

  // What is wrong with a close-out: the service tells it in English, what a page finds by itself is in the reader's language.
  function told(problem) {
    return problem.rule === Outbox.tooLarge && !problem.detail
      ? { lang: document.documentElement.lang, detail: VisitTexts.photos_too_large, mend: VisitTexts.photos_too_large_mend }
      : { lang: "en", ...problem };
  }

  async function show() {
    const entries = await Outbox.all("outbox");
    kept.unsent = entries.length;
    let strip = document.getElementById("outbox-strip");
    if (entries.length === 0) {
      strip?.remove();
    } else {
      if (!strip) {
        strip = element("aside", "", { id: "outbox-strip", "aria-label": FrameTexts.on_this_device });
        strip.append(element("span", "", { role: "status" }), element("a", FrameTexts.show, { href: "/visits" }));
        document.getElementById("main").before(strip);
      }
      const text = words(entries);
      if (strip.firstChild.textContent !== text) {
        strip.firstChild.textContent = text;
      }
    }
    listeners.forEach(listener => listener(entries));
    return entries;
  }

  async function send() {
    if (reader === null) {
      return show();
    }
    const results = await Outbox.sendAll();
    const entries = await show();
    const sent = results.filter(result => result.state === "sent");
    if (sent.length > 0) {
      listeners.forEach(listener => listener(entries, sent));
    }
    return entries;
  }

  async function keepTrying() {
    const entries = await Outbox.all("outbox");
    if (document.visibilityState !== "visible") {
      return;
    }
    if (entries.some(entry => entry.state === "waiting")) {
      await send();
    } else if (entries.length !== kept.unsent) {
      await show();
    }
  }

  // What is kept for use without a signal goes at signing out; what was never sent stays, and the person is told. The form is never held
  // back for an answer of the device's own stores: they may take long, and a person who wants to leave must be able to.
  async function count() {
    [kept.unsent, kept.drafts] = (await Promise.all(["outbox", "drafts"].map(Outbox.all))).map(entries => entries.length);
  }

  function agreesToLeave() {
    const unsent = kept.unsent > 0 ? Texts.counted(FrameTexts.unsent, kept.unsent) : null;
    const drafts = kept.drafts > 0 ? Texts.counted(FrameTexts.drafts, kept.drafts) : null;
    const stays = unsent && drafts ? Texts.fill(FrameTexts.unsent_and_drafts, { unsent, drafts }) : unsent ?? drafts;
    return !stays || window.confirm(Texts.fill(FrameTexts.stays_here, { what: stays }));
  }

  const forget = () => "caches" in window ? caches.delete(Outbox.cacheName) : Promise.resolve();

  const quietly = work => work().catch(error => console.info("Nothing can be kept on this device: " + error));
  if ("indexedDB" in window) {
    window.addEventListener("online", () => quietly(send));
    document.addEventListener("visibilitychange", () => quietly(keepTrying));
    window.setInterval(() => quietly(keepTrying), retryMs);
    quietly(send);
    quietly(count);
    for (const form of document.querySelectorAll("form.sign-out")) {
      for (const nears of ["focusin", "pointerover"]) {
        form.addEventListener(nears, () => quietly(count));
      }
      form.addEventListener("submit", event => agreesToLeave() || event.preventDefault());
    }
  }
  if (reader === null) {
    quietly(forget);
  }

  return { show, send, reader, element, told, onChange: listener => listeners.push(listener) };
})();
