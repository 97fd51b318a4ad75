// Lets a reader sort tables that are whole by a column, take any table along as a file, and send a sorted view on: how a table is
// sorted stands in the address behind '#'. Tables that have more rows than the page shows are sorted by the server, with links.
"use strict";

{
  const collator = new Intl.Collator(document.documentElement.lang || "en", { numeric: true, sensitivity: "base" });
  const MARK = "#sort=";

  const wordsOf = cell => cell.innerText.replace(/\s*\n\s*/g, "; ").replace(/\s+/g, " ").trim();

  // A number as this reader has it, without what sets thousands apart and with a point before its decimals.
  const decimal = document.body.dataset.decimal ?? ".";
  const plain = text => text.replace(/[%\s'’]/g, "").replaceAll(decimal === "," ? "." : ",", "").replace(decimal, ".").replace("−", "-");

  function keyOf(row, column) {
    const cell = row.cells[column];
    const number = Number.parseFloat(cell.dataset.value ?? plain(cell.textContent));
    return { number, text: cell.textContent.trim(), known: Number.isFinite(number) };
  }

  function compare(a, b) {
    if (a.known && b.known) {
      return a.number - b.number;
    }
    return a.known !== b.known ? (a.known ? -1 : 1) : collator.compare(a.text, b.text);
  }

  // A table is named by the section that it stands in and its place there, so that an address still finds it tomorrow.
  function name(tables) {
    const count = new Map();
    for (const table of tables) {
      const section = table.closest("section[aria-labelledby]")?.getAttribute("aria-labelledby") ?? "table";
      count.set(section, (count.get(section) ?? 0) + 1);
      table.dataset.name = section + "." + count.get(section);
    }
  }

  function sortBy(table, column, down) {
    const headers = table.tHead.rows[0].cells;
    for (const other of headers) {
      other.removeAttribute("aria-sort");
    }
    headers[column].setAttribute("aria-sort", down ? "descending" : "ascending");
    const body = table.tBodies[0];
    const rows = Array.from(body.rows, row => ({ row, key: keyOf(row, column) }));
    rows.sort((a, b) => (down ? -1 : 1) * compare(a.key, b.key));
    body.append(...rows.map(each => each.row));
  }

  const sortable = table => table.tHead?.rows.length === 1 && table.tBodies[0]?.rows.length > 1
    && !table.dataset.order && !table.tHead.querySelector("a.sort");

  function withButtons(table) {
    Array.from(table.tHead.rows[0].cells).forEach((header, column) => {
      if (!wordsOf(header) && !header.textContent.trim()) {
        return;
      }
      const button = document.createElement("button");
      button.type = "button";
      button.className = "sort";
      button.append(...header.childNodes);
      button.addEventListener("click", () => {
        const down = header.getAttribute("aria-sort") === "ascending";
        sortBy(table, column, down);
        history.replaceState(history.state, "", MARK + table.dataset.name + "." + column + (down ? "-" : ""));
      });
      header.append(button);
    });
  }

  function sortAsAddressed(tables) {
    const asked = location.hash.startsWith(MARK) && /^(.+)\.(\d+)(-?)$/.exec(decodeURIComponent(location.hash.slice(MARK.length)));
    const table = asked && tables.find(each => each.dataset.name === asked[1]);
    if (!table || !sortable(table) && !table.tHead.querySelector("button.sort") || Number(asked[2]) >= table.tHead.rows[0].cells.length) {
      return;
    }
    for (let fold = table.closest("details"); fold; fold = fold.parentElement.closest("details")) {
      fold.open = true;
    }
    sortBy(table, Number(asked[2]), asked[3] === "-");
    table.scrollIntoView({ block: "start" });
  }

  // As on the server: what a spreadsheet would run as a formula is disarmed.
  function quoted(text) {
    const safe = /^[=+\-@\t\r\uFF1D\uFF0B\uFF0D\uFF20]/.test(text) && !/^-?[\d.,]+$/.test(text) ? "'" + text : text;
    return /[",\n]/.test(safe) ? '"' + safe.replaceAll('"', '""') + '"' : safe;
  }

  function fileOf(table) {
    const lines = Array.from(table.rows, row => Array.from(row.cells, cell => quoted(wordsOf(cell))).join(","));
    return new Blob(["\uFEFF", lines.join("\r\n"), "\r\n"], { type: "text/csv;charset=utf-8" });
  }

  function isOffered(table) {
    const near = table.closest("figure") ?? (table.closest(".scroll") ?? table);
    const next = near.nextElementSibling;
    return near.localName === "figure"
      ? near.querySelector(".figure-links a[href*='csv']") !== null
      : next !== null && (next.matches("a[href*='csv']") || next.querySelector("a[href*='csv']") !== null);
  }

  function offerFile(table) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "quiet table-file";
    button.textContent = FrameTexts.rows_as_csv;
    const of = document.createElement("span");
    of.className = "unseen";
    of.textContent = Texts.fill(FrameTexts.rows_of, { table: table.caption?.textContent.trim() ?? "" });
    button.append(of);
    button.addEventListener("click", () => {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(fileOf(table));
      link.download = (document.querySelector("h1")?.textContent ?? "table").toLowerCase().replace(/[^a-z0-9]+/g, "-").slice(0, 40) + "-" + table.dataset.name.replace(".", "-") + ".csv";
      link.click();
      URL.revokeObjectURL(link.href);
    });
    const foot = document.createElement("p");
    foot.className = "after-table";
    foot.append(button);
    (table.closest(".scroll") ?? table).after(foot);
  }

  const tables = Array.from(document.querySelectorAll("main table")).filter(table => table.caption && !table.dataset.form);
  name(tables);
  for (const table of tables.filter(sortable)) {
    withButtons(table);
    if (!isOffered(table)) {
      offerFile(table);
    }
  }
  sortAsAddressed(tables);
}

// The key / leads to the search, unless something is being typed or another key is held: nothing else is taken from the browser.
const find = document.getElementById("frame-find");
if (find) {
  find.setAttribute("aria-keyshortcuts", "/");
  document.addEventListener("keydown", event => {
    const typing = event.target.closest("input, textarea, select, [contenteditable]");
    if (event.key === "/" && !typing && !event.ctrlKey && !event.metaKey && !event.altKey && !event.isComposing) {
      event.preventDefault();
      find.focus();
      find.select();
    }
  });
}

// A link that prints the page it stands on; without scripts it shows that page again, to be printed by the browser's own menu.
for (const link of document.querySelectorAll("a[data-print]")) {
  link.addEventListener("click", event => {
    event.preventDefault();
    window.print();
  });
}
