// Between the pages and the network: gives the close-out forms that were opened before when there is no signal, and sends what waits.
// Nothing else that a person reads is ever kept.
const offlinePage = "/visits";
// A form that corrects is filled by the server with what was recorded: kept, it would be shown for another visit to the unit.
const isForm = url => url.pathname === Outbox.closeOutUrl && !url.searchParams.has("corrects");
const formOf = url => url.pathname + "?unit=" + encodeURIComponent((url.searchParams.get("unit") ?? "").toUpperCase());

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", event => event.waitUntil(self.clients.claim()));

async function keep(request, name, response) {
  const isPage = response.ok && !response.redirected;
  if (isPage) {
    const cache = await caches.open(Outbox.cacheName);
    await cache.put(name, response.clone());
  }
  return response;
}

// Addresses of assets carry the mark of their content: an older one of the same name is of no use any more.
async function asset(request) {
  const cache = await caches.open(Outbox.cacheName);
  const known = await cache.match(request);
  if (known) {
    return known;
  }
  const response = await fetch(request);
  if (response.ok) {
    const path = new URL(request.url).pathname;
    const old = (await cache.keys()).filter(each => new URL(each.url).pathname === path);
    await Promise.all(old.map(each => cache.delete(each)));
    await cache.put(request, response.clone());
  }
  return response;
}

async function page(request) {
  const url = new URL(request.url);
  try {
    const response = await fetch(request);
    return isForm(url) ? await keep(request, formOf(url), response) : url.pathname === offlinePage ? await keep(request, offlinePage, response) : response;
  } catch (error) {
    const kept = (isForm(url) ? await caches.match(formOf(url)) : null) ?? await caches.match(offlinePage);
    if (kept) {
      return kept;
    }
    throw error;
  }
}

self.addEventListener("fetch", event => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) {
    return;
  }
  if (event.request.mode === "navigate") {
    event.respondWith(page(event.request));
  } else if (url.pathname.startsWith("/assets/")) {
    event.respondWith(asset(event.request));
  }
});

self.addEventListener("sync", event => {
  if (event.tag === "washwear-outbox") {
    event.waitUntil(Outbox.sendAll().then(results => {
      if (results.some(result => result.why === "no_signal")) {
        throw new Error("There is no signal yet.");
      }
    }));
  }
});

// A page opened for the first time asks to be kept together with what it needs.
self.addEventListener("message", event => {
  if (event.data?.type === "keep") {
    event.waitUntil(Promise.allSettled(event.data.urls.map(async address => {
      const url = new URL(address, self.location.origin);
      return url.pathname.startsWith("/assets/") ? asset(new Request(url)) : keep(null, isForm(url) ? formOf(url) : url.pathname, await fetch(url));
    })));
  }
});
