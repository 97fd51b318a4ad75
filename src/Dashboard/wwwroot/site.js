// Lets a reader sort tables by a column. Everything on the pages works without it.
"use strict";

const collator = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

function keyOf(row, column) {
  const cell = row.cells[column];
  const value = cell.dataset.value ?? cell.textContent.trim().replace(/[,%\s]/g, "");
  const number = Number.parseFloat(value);
  return { number, text: cell.textContent.trim(), known: Number.isFinite(number) };
}

function compare(a, b) {
  if (a.known && b.known) {
    return a.number - b.number;
  }
  return a.known !== b.known ? (a.known ? -1 : 1) : collator.compare(a.text, b.text);
}

function sortBy(table, header, column) {
  const down = header.getAttribute("aria-sort") === "ascending";
  for (const other of table.tHead.rows[0].cells) {
    other.removeAttribute("aria-sort");
  }
  header.setAttribute("aria-sort", down ? "descending" : "ascending");
  const body = table.tBodies[0];
  const rows = Array.from(body.rows, row => ({ row, key: keyOf(row, column) }));
  rows.sort((a, b) => (down ? -1 : 1) * compare(a.key, b.key));
  body.append(...rows.map(each => each.row));
}

for (const table of document.querySelectorAll("table[data-sort]")) {
  Array.from(table.tHead.rows[0].cells).forEach((header, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "sort";
    button.append(...header.childNodes);
    button.addEventListener("click", () => sortBy(table, header, column));
    header.append(button);
  });
}
