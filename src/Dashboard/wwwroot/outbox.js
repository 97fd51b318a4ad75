// Tells on every page what waits on this phone, sends it when there is a signal, and takes care at signing out.
const OutboxPage = (() => {
  const retryMs = 30000;
  const reader = document.body.dataset.reader ?? null;
  const listeners = [];
  const kept = { unsent: 0, drafts: 0 };

  const counted = (n, one, many) => (n === 1 ? "1 " + one : n + " " + many);

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
      told.push(counted(waiting.length, "close-out waits", "close-outs wait") + (waiting.some(entry => entry.why === "signed_out") ? " for you to sign in." : " for a signal."));
    }
    if (refused.length > 0) {
      told.push(counted(refused.length, "close-out was not accepted and has", "close-outs were not accepted and have") + " to be mended.");
    }
    if (others.length > 0) {
      const names = [...new Set(others.map(entry => entry.reader))].join(", ");
      told.push(counted(others.length, "close-out", "close-outs") + " by " + names + (others.length === 1 ? " waits" : " wait") + " on this device: sign in as " + names + " to send " + (others.length === 1 ? "it." : "them."));
    }
    return told.join(" ");
  }

  async function show() {
    const entries = await Outbox.all("outbox");
    kept.unsent = entries.length;
    let strip = document.getElementById("outbox-strip");
    if (entries.length === 0) {
      strip?.remove();
    } else {
      if (!strip) {
        strip = element("aside", "", { id: "outbox-strip", "aria-label": "Close-outs on this device" });
        strip.append(element("span", "", { role: "status" }), element("a", "Show", { href: "/visits" }));
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
    if ((await Outbox.all("outbox")).some(entry => entry.state === "waiting") && document.visibilityState === "visible") {
      await send();
    }
  }

  // What is kept for use without a signal goes at signing out; what was never sent stays, and the person is told. The form is never held
  // back for an answer of the device's own stores: they may take long, and a person who wants to leave must be able to.
  async function count() {
    [kept.unsent, kept.drafts] = (await Promise.all(["outbox", "drafts"].map(Outbox.all))).map(entries => entries.length);
  }

  function agreesToLeave() {
    const stays = [kept.unsent > 0 ? counted(kept.unsent, "close-out that has not been sent", "close-outs that have not been sent") : null, kept.drafts > 0 ? counted(kept.drafts, "draft", "drafts") : null].filter(Boolean).join(" and ");
    return !stays || window.confirm("On this device stay " + stays + ". They can be sent when you sign in again. Sign out now?");
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

  return { show, send, reader, element, onChange: listener => listeners.push(listener) };
})();
