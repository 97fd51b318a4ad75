// Keeps the form that closes a visit on the phone as it is filled in, and hands it over when it is saved. Without this script the form
// is sent as it is.
(() => {
  const form = document.getElementById("close-out");
  if (!form || !("indexedDB" in window) || OutboxPage.reader === null) {
    return;
  }
  const unit = form.dataset.unit;
  // A correction is a draft of its own beside that of a further visit.
  const corrects = form.elements.corrects.value;
  const id = [OutboxPage.reader, unit, corrects].filter(Boolean).join("\n");
  const state = form.querySelector(".save-state");
  const button = form.querySelector(".save-bar button");
  const picker = form.querySelector("input[type=file]");
  const photoList = form.querySelector(".photo-list");
  const tokenField = "__RequestVerificationToken";
  const ownFields = new Set([tokenField, "key", "unit", "saved_by"]);
  const mostPhotos = 6;
  const mostMebibytes = 8;
  const mostBytes = mostMebibytes * 1024 * 1024;
  const shrinkAbove = 4 * 1024 * 1024;
  const longestEdge = 2560;
  const { element } = OutboxPage;
  let photos = [];
  let saving = false;
  let writing = false;
  let changed = false;

  // The site's wall clock, as a field of date and time writes it.
  function wallTime(at = new Date()) {
    const parts = {};
    const format = { timeZone: form.dataset.zone, hourCycle: "h23", year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit" };
    for (const part of new Intl.DateTimeFormat("en-CA", format).formatToParts(at)) {
      parts[part.type] = part.value;
    }
    return `${parts.year}-${parts.month}-${parts.day}T${parts.hour}:${parts.minute}`;
  }

  const newKey = () => self.crypto.randomUUID();
  const fields = () => [...new FormData(form).entries()].filter(([name, value]) => typeof value === "string" && name !== tokenField);
  const draft = () => ({ id, reader: OutboxPage.reader, unit, corrects, key: form.elements.key.value, fields: fields(), at: Date.now() });

  // Each change is written at once; those made while one is written are written together after it.
  async function keepDraft() {
    changed = true;
    if (writing) {
      return;
    }
    writing = true;
    try {
      while (changed && !saving) {
        changed = false;
        await Outbox.put("drafts", draft());
      }
    } catch {
      tellNotKept();
    } finally {
      writing = false;
    }
  }

  function tellNotKept() {
    state.textContent = VisitTexts.keeps_nothing;
  }

  function unfoldWhatIsFilled() {
    for (const details of form.querySelectorAll("details")) {
      const filled = [...details.querySelectorAll("input:not([type=hidden], [type=file]), select, textarea")].some(control =>
        control.type === "radio" || control.type === "checkbox" ? control.checked && control.value !== "" : control.value !== "" && control.name !== "technician" && control.name !== "asked");
      details.open ||= filled || details.querySelector(".field-error") !== null;
    }
  }

  function fill(entry) {
    const values = new Map();
    for (const [name, value] of entry.fields) {
      values.set(name, [...(values.get(name) ?? []), value]);
    }
    for (const control of form.elements) {
      if (!control.name || control.type === "file" || control.name === tokenField || control.name === "unit" || control.name === "saved_by") {
        continue;
      }
      const given = values.get(control.name) ?? [];
      if (control.name.startsWith("check/") && control.type === "radio" && !given.some(value => value !== "")) {
        // The draft tells no result: one that came along from the visit sheet stays.
        control.checked = control.defaultChecked;
      } else if (control.type === "radio" || control.type === "checkbox") {
        control.checked = given.includes(control.value) || (control.type === "radio" && control.value === "" && given.length === 0);
      } else if (given.length > 0) {
        control.value = given[0];
      }
    }
    unfoldWhatIsFilled();
  }

  function clearProblems() {
    form.querySelectorAll(".field-error").forEach(each => each.remove());
    document.getElementById("problems")?.remove();
  }

  function nearest(field) {
    for (let name = field; name; name = name.includes("/") ? name.slice(0, name.lastIndexOf("/")) : "") {
      const control = [...form.elements].find(each => each.name === name || each.name?.startsWith(name + "/"));
      if (control) {
        // What is wrong with a choice stands beneath all of its answers, not within one of them.
        return control.closest(control.closest(".segment") ? "fieldset" : "fieldset, .entry, label") ?? control;
      }
    }
    return null;
  }

  function showProblems(problems) {
    clearProblems();
    const box = element("div", "", { class: "error", id: "problems", role: "alert", tabindex: "-1" });
    box.append(element("p", Texts.counted(VisitTexts.not_saved, problems.length)));
    for (const problem of problems) {
      const place = problem.field && !["unit", "key"].includes(problem.field) ? nearest(problem.field) : null;
      const text = element("p", "", place ? { class: "error field-error", "data-rule": problem.rule } : { "data-rule": problem.rule });
      const told = OutboxPage.told(problem);
      text.append(element("strong", told.detail), " " + told.mend);
      text.lang = told.lang;
      (place ?? box).append(text);
      for (let above = place?.closest("details"); above; above = above.parentElement.closest("details")) {
        above.open = true;
      }
    }
    form.before(box);
    box.focus();
    box.scrollIntoView({ block: "start" });
  }

  // The server asks this again; here it spares a person without a signal a refusal that comes too late.
  function notProven() {
    if (form.elements.outcome.value !== "proven") {
      return null;
    }
    const open = [...form.querySelectorAll("[data-proof]")].filter(proof => form.elements[proof.dataset.proof].value !== "pass");
    return open.length === 0 ? null : {
      field: "outcome", rule: "proof_missing", lang: document.documentElement.lang,
      detail: Texts.fill(VisitTexts.not_proven, { proofs: open.map(proof => proof.dataset.name).join(", ") }), mend: VisitTexts.not_proven_mend,
    };
  }

  function thumbnail(picture) {
    const canvas = document.createElement("canvas");
    const side = Math.min(picture.width, picture.height);
    canvas.width = canvas.height = 160;
    canvas.getContext("2d").drawImage(picture, (picture.width - side) / 2, (picture.height - side) / 2, side, side, 0, 0, 160, 160);
    return canvas.toDataURL("image/jpeg", 0.7);
  }

  async function shrunk(file, picture) {
    const scale = Math.min(1, longestEdge / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise(resolve => canvas.toBlob(resolve, "image/jpeg", 0.85));
    return blob && blob.size < file.size ? blob : file;
  }

  async function addPhotos(files) {
    const told = [];
    for (const file of files) {
      let picture = null;
      try {
        picture = await createImageBitmap(file);
      } catch {
        told.push(Texts.fill(VisitTexts.no_photo, { file: file.name }));
        continue;
      }
      const blob = file.size > shrinkAbove ? await shrunk(file, picture) : file;
      if (!["image/jpeg", "image/png", "image/webp"].includes(blob.type)) {
        told.push(Texts.fill(VisitTexts.no_known_photo, { file: file.name }));
      } else if (blob.size > mostBytes) {
        told.push(Texts.fill(VisitTexts.photo_too_large, { size: mostMebibytes, file: file.name }));
      } else if (photos.length === mostPhotos) {
        told.push(Texts.fill(VisitTexts.one_photo_too_many, { most: mostPhotos, file: file.name }));
      } else {
        photos.push({ name: file.name, blob, thumbnail: thumbnail(picture) });
      }
      picture.close();
    }
    picker.value = "";
    showPhotos(told);
    await Outbox.keepPhotos(id, photos);
    await keepDraft();
  }

  function showPhotos(told = []) {
    photoList.hidden = photos.length === 0 && told.length === 0;
    photoList.replaceChildren(...photos.map((photo, index) => {
      const item = element("li", "");
      const out = element("button", VisitTexts.take_out, { type: "button", class: "quiet" });
      out.addEventListener("click", () => {
        photos.splice(index, 1);
        showPhotos();
        Outbox.keepPhotos(id, photos).then(keepDraft).catch(tellNotKept);
      });
      item.append(element("img", "", { src: photo.thumbnail, alt: Texts.fill(VisitTexts.photo, { number: index + 1, file: photo.name }) }), out);
      return item;
    }), ...told.map(text => element("li", text, { class: "error", role: "alert" })));
  }

  function done(entry) {
    const text = Texts.fill(VisitTexts.kept[entry.why] ?? VisitTexts.kept.no_signal, { reader: entry.reader });
    const box = element("section", "", { class: "callout", id: "kept", tabindex: "-1", role: "status" });
    box.append(element("h2", VisitTexts.saved_here), element("p", text));
    const links = element("p", "");
    links.append(element("a", entry.why === "signed_out" ? VisitTexts.sign_in : VisitTexts.what_waits, { class: "button", href: entry.why === "signed_out" ? "/sign-in?return_to=/visits" : "/visits" }));
    box.append(links);
    clearProblems();
    document.getElementById("draft-note")?.remove();
    form.replaceWith(box);
    box.focus();
    // Another page or the worker may have sent it.
    OutboxPage.onChange((entries, sent) => {
      if (!entries.some(each => each.key === entry.key)) {
        leaveFor(sent?.find(each => each.key === entry.key)?.receipt ?? savedAs(entry.key));
      }
    });
  }

  // The receipt takes the form's place: going back must not lead to what was saved, filled in by the browser and ready to be saved once more.
  const leaveFor = receipt => window.location.replace(receipt);
  const savedAs = key => "/visits/" + key + "?done=saved";

  async function save() {
    const problem = notProven();
    if (problem) {
      showProblems([problem]);
      return;
    }
    saving = true;
    button.disabled = true;
    state.textContent = VisitTexts.saving;
    if (form.elements.left.value === "") {
      form.elements.left.value = wallTime();
    }
    const entry = { ...draft(), photos, state: "waiting", why: "no_signal", savedAt: Date.now() };
    await Outbox.put("outbox", entry);
    await Outbox.removeDraft(id);
    // The page has its turn before the worker, which sends what is left should the page be closed meanwhile.
    const sending = Outbox.sendOne(entry.key);
    navigator.serviceWorker?.getRegistration().then(worker => worker?.sync?.register("washwear-outbox")).catch(() => {});
    const after = await sending;
    if (after === null || after.state === "sent") {
      leaveFor(after?.receipt ?? savedAs(entry.key));
      return;
    }
    await OutboxPage.show();
    saving = false;
    button.disabled = false;
    state.textContent = "";
    if (after.state === "refused") {
      showProblems(after.problems);
    } else {
      done(after);
    }
  }

  async function begin() {
    if (form.dataset.fresh !== "true") {
      photos = await Outbox.photosOf(id);
      showPhotos();
      await keepDraft();
      unfoldWhatIsFilled();
      return;
    }
    const refused = (await Outbox.all("outbox")).find(entry => entry.state === "refused" && entry.unit === unit && (entry.corrects ?? "") === corrects && entry.reader === OutboxPage.reader);
    const kept = refused ?? await Outbox.get("drafts", id);
    if (kept) {
      fill(kept);
      photos = refused ? refused.photos : await Outbox.photosOf(id);
      showPhotos();
      const when = new Date(kept.at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
      const note = element("p", (refused ? VisitTexts.was_refused : Texts.fill(VisitTexts.draft_is_back, { time: when })) + " ", { class: "doubt", id: "draft-note" });
      const again = element("button", VisitTexts.start_again, { type: "button", class: "quiet" });
      again.addEventListener("click", async () => {
        if (window.confirm(Texts.fill(VisitTexts.throw_away, { unit }))) {
          saving = true;
          await Outbox.removeDraft(id);
          await (refused ? Outbox.remove("outbox", refused.key) : null);
          window.location.reload();
        }
      });
      note.append(again);
      form.before(note);
      if (refused) {
        showProblems(refused.problems);
      }
      return;
    }
    if (corrects) {
      unfoldWhatIsFilled();
      return;
    }
    // A page kept for use without a signal brings the key and the time of the day on which it was kept.
    form.elements.key.value = newKey();
    form.elements.arrived.value = wallTime();
  }

  async function register() {
    if (!("serviceWorker" in navigator)) {
      return;
    }
    await navigator.serviceWorker.register(form.dataset.worker, { scope: "/" });
    const worker = (await navigator.serviceWorker.ready).active;
    const assets = [...document.querySelectorAll("link[href^='/assets/'], script[src^='/assets/']")].map(each => each.getAttribute("href") ?? each.getAttribute("src"));
    worker.postMessage({ type: "keep", urls: [...(corrects ? [] : [window.location.pathname + window.location.search]), "/visits", form.dataset.keep, ...assets] });
  }

  form.addEventListener("input", keepDraft);
  form.addEventListener("change", event => {
    if (event.target === picker) {
      addPhotos([...picker.files]).catch(tellNotKept);
    } else {
      keepDraft();
    }
  });
  form.addEventListener("submit", event => {
    event.preventDefault();
    save().catch(() => {
      // Nothing can be kept here: send it as a browser without scripts would.
      tellNotKept();
      form.submit();
    });
  });
  begin().catch(tellNotKept);
  register().catch(error => console.info("No service worker: " + error));
})();
