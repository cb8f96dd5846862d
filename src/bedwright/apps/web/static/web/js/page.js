// Small helps on every page; each page works without them.

// A link shown once can be taken with one press.
for (const field of document.querySelectorAll("input[data-copy]")) {
  field.addEventListener("focus", () => field.select());
}

// What is typed is not lost by leaving the page by accident.
for (const form of document.querySelectorAll("form[data-keep]")) {
  let touched = false;
  form.addEventListener("input", () => { touched = true; });
  form.addEventListener("submit", () => { touched = false; });
  window.addEventListener("beforeunload", (event) => { if (touched) event.preventDefault(); });
}
