// Small helps on every page; each page works without them.

// On a narrow screen the navigation scrolls: the present page is brought into sight.
for (const here of document.querySelectorAll("nav.pages a[aria-current], .drawn-pages a[aria-current]")) {
  const list = here.closest("nav");
  const show = () => { list.scrollLeft = here.offsetLeft - list.offsetLeft - (list.clientWidth - here.offsetWidth) / 2; };
  show();
  // Letters are as wide as they will be only once their font is here.
  document.fonts.ready.then(show);
}

// What is folded away for want of room stands open where there is room.
if (matchMedia("(min-width: 48rem)").matches) {
  for (const details of document.querySelectorAll("details[data-open-wide]")) details.open = true;
}

// A link shown once can be taken with one press.
for (const field of document.querySelectorAll("input[data-copy]")) {
  field.addEventListener("focus", () => field.select());
}

// A new garden most often lies where its gardener sits: the box says so, and can be changed.
const zone = document.querySelector("input[name='site.time_zone']");
if (zone && !zone.value) zone.value = Intl.DateTimeFormat().resolvedOptions().timeZone || "";

// A table whose rows become lists on a narrow screen: each value is told with the head of its
// column, and stays a table to those who have it read out.
function label(table) {
  const heads = [...table.tHead.rows[0].cells].map((cell) => cell.textContent.trim());
  const role = (node, name) => node.setAttribute("role", name);
  role(table, "table");
  for (const part of [table.tHead, ...table.tBodies]) role(part, "rowgroup");
  for (const row of table.rows) {
    role(row, "row");
    [...row.cells].forEach((cell, k) => {
      role(cell, cell.tagName === "TD" ? "cell" : cell.scope === "row" ? "rowheader" : "columnheader");
      if (cell.tagName === "TD" && cell.colSpan === 1 && heads[k]) cell.dataset.head = heads[k];
    });
  }
  table.classList.add("labelled");
}
for (const table of document.querySelectorAll("table.stack")) label(table);

// What is typed is not lost by leaving the page by accident.
for (const form of document.querySelectorAll("form[data-keep]")) {
  let touched = false;
  form.addEventListener("input", () => { touched = true; });
  form.addEventListener("submit", () => { touched = false; });
  window.addEventListener("beforeunload", (event) => { if (touched) event.preventDefault(); });
}

// A problem's line number leads to that line of the text.
for (const link of document.querySelectorAll("a[data-line]")) {
  link.addEventListener("click", (event) => {
    const text = document.querySelector("textarea.code");
    if (!text) return;
    event.preventDefault();
    const lines = text.value.split("\n");
    const start = lines.slice(0, Number(link.dataset.line) - 1).join("\n").length + 1;
    text.focus();
    text.setSelectionRange(start, start + lines[Number(link.dataset.line) - 1].length);
    const height = parseFloat(getComputedStyle(text).lineHeight);
    text.scrollTop = Math.max(0, (Number(link.dataset.line) - 4) * height);
  });
}
