// What a phone keeps of close-outs, and how it sends them. Shared by the pages and the service worker: no page is touched here.
"use strict";

const Outbox = (() => {
  const closeOutUrl = "/visits/new";
  const tokenUrl = "/visits/form-token";
  const cacheName = "washwear-visits";
  const patienceMs = 60000;
  // What the service says of photos that are too large together; the page has the words for it.
  const tooLarge = "too_large";
  let opened = null;

  function open() {
    opened ??= new Promise((resolve, reject) => {
      const request = indexedDB.open("washwear-visits", 2);
      request.onupgradeneeded = () => {
        for (const [name, keyPath] of [["outbox", "key"], ["drafts", "id"], ["photos", "id"]]) {
          if (!request.result.objectStoreNames.contains(name)) {
            request.result.createObjectStore(name, { keyPath });
          }
        }
      };
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    return opened;
  }

  async function run(store, mode, work) {
    const database = await open();
    return new Promise((resolve, reject) => {
      const transaction = database.transaction(store, mode, { durability: "strict" });
      const request = work(transaction.objectStore(store));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error);
    });
  }

  const get = (store, id) => run(store, "readonly", rows => rows.get(id));
  const all = store => run(store, "readonly", rows => rows.getAll());
  const put = (store, row) => run(store, "readwrite", rows => rows.put(row));
  const remove = (store, id) => run(store, "readwrite", rows => rows.delete(id));

  // The photos of a draft lie apart, so that a letter typed does not write them all again.
  const keepPhotos = (id, photos) => put("photos", { id, photos });
  const photosOf = async id => (await get("photos", id))?.photos ?? [];

  async function removeDraft(id) {
    await remove("drafts", id);
    await remove("photos", id);
  }

  function bodyOf(entry, token) {
    const body = new FormData();
    for (const [name, value] of entry.fields) {
      if (name !== token.field) {
        body.append(name, value);
      }
    }
    body.append(token.field, token.token);
    for (const photo of entry.photos) {
      body.append("photo", photo.blob, photo.name);
    }
    return body;
  }

  // Goes on waiting unless the server has said that it has it, or that it will not take it.
  async function send(entry) {
    const signal = AbortSignal.timeout(patienceMs);
    const asked = await fetch(tokenUrl, { headers: { Accept: "application/json" }, cache: "no-store", signal });
    if (asked.status === 401) {
      return { ...entry, why: "signed_out" };
    }
    if (!asked.ok) {
      return { ...entry, why: "server" };
    }
    const token = await asked.json();
    if (token.reader !== entry.reader) {
      return { ...entry, why: "another_person" };
    }
    const answer = await fetch(closeOutUrl, { method: "POST", headers: { Accept: "application/json" }, body: bodyOf(entry, token), signal });
    if (answer.status === 200) {
      return { ...entry, state: "sent", receipt: (await answer.json()).receipt };
    }
    if (answer.status === 422) {
      return { ...entry, state: "refused", problems: (await answer.json()).problems };
    }
    if (answer.status === 413) {
      return { ...entry, state: "refused", problems: [{ field: "photo", rule: tooLarge }] };
    }
    return { ...entry, why: answer.status === 401 ? "signed_out" : answer.status === 403 ? "not_allowed" : "server" };
  }

  async function sendAndKeep(entry) {
    let after;
    try {
      after = await send(entry);
    } catch {
      after = { ...entry, why: "no_signal" };
    }
    if (after.state === "sent") {
      await remove("outbox", entry.key);
    } else if (await get("outbox", entry.key)) {
      await put("outbox", after);
    }
    return after;
  }

  // One at a time over all pages and the worker; were it twice, the server would say that it has it.
  const alone = work => self.navigator.locks ? self.navigator.locks.request("washwear-outbox", work) : work();

  const sendOne = key => alone(async () => {
    const entry = await get("outbox", key);
    return entry?.state === "waiting" ? sendAndKeep(entry) : entry ?? null;
  });

  async function sendAll() {
    const results = [];
    for (const entry of (await all("outbox")).filter(each => each.state === "waiting")) {
      results.push(await sendOne(entry.key));
    }
    return results.filter(Boolean);
  }

  return { get, all, put, remove, keepPhotos, photosOf, removeDraft, sendOne, sendAll, cacheName, closeOutUrl, tooLarge };
})();
