// Small helps on every page; each page works without them.

// On a narrow screen the navigation scrolls: the present page is brought into sight.
const here = document.querySelector("nav.pages a[aria-current]");
if (here) {
  const list = here.closest("nav");
  list.scrollLeft = Math.max(0, here.offsetLeft - list.offsetLeft - 32);
}

// A link shown once can be taken with one press.
for (const field of document.querySelectorAll("input[data-copy]")) {
  field.addEventListener("focus", () => field.select());
}

// A new garden most often lies where its gardener sits: the box says so, and can be changed.
const zone = document.querySelector("input[name='site.time_zone']");
if (zone && !zone.value) zone.value = Intl.DateTimeFormat().resolvedOptions().timeZone || "";

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
