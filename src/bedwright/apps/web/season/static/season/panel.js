// The panel beside a drawing: filled by htmx, told to the drawing once it is shown.

const side = () => document.getElementById("side");

/** Load an address into the panel; resolves with the panel once its forms are htmx's own. */
export function show(url) {
  return new Promise((resolve) => {
    const settled = (event) => {
      if (event.detail.target !== side()) return;
      document.body.removeEventListener("htmx:afterSettle", settled);
      resolve(side());
    };
    document.body.addEventListener("htmx:afterSettle", settled);
    window.htmx.ajax("GET", url, { target: "#side", swap: "innerHTML" });
  });
}

/** Call back with the code of the planting shown; with a plan on trial, or the numbers of a move, where there are any. */
export function whenShown(tell) {
  document.body.addEventListener("htmx:afterSettle", (event) => {
    const panel = side();
    if (event.detail.target !== panel && !panel.contains(event.detail.target)) return;
    const trial = panel.querySelector("#trial-data");
    const moved = panel.querySelector("[data-moved]") && panel.querySelector("form[data-move]");
    tell(panel.querySelector("[data-code]")?.dataset.code ?? null, { trial: trial && JSON.parse(trial.textContent), moved });
    // Who came by a link goes on reading in the panel; a pointer stays on the drawing.
    if (event.detail.requestConfig?.elt?.matches?.("a")) panel.focus({ preventScroll: true });
    // Below the drawing the panel is out of sight on narrow screens.
    const box = panel.getBoundingClientRect();
    if (box.top > window.innerHeight - 80 || box.bottom < 80) panel.scrollIntoView({ block: "start" });
  });
}

/** Mark the links of a planting as the current ones. */
export function markCurrent(within, code) {
  for (const node of within.querySelectorAll("[data-code]")) {
    const link = node.matches("a") ? node : node.querySelector("a");
    if (node.dataset.code === code) link?.setAttribute("aria-current", "true");
    else link?.removeAttribute("aria-current");
  }
}
