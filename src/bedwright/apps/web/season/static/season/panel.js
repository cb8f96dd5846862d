// The panel beside a drawing: filled by htmx, told to the drawing once it is shown.

const side = () => document.getElementById("side");

/** Load an address into the panel; resolves with the panel. */
export async function show(url) {
  await window.htmx.ajax("GET", url, { target: "#side", swap: "innerHTML" });
  return side();
}

/** Call back with the code of the planting shown, and with a plan on trial where there is one. */
export function whenShown(tell) {
  document.body.addEventListener("htmx:afterSettle", (event) => {
    const panel = side();
    if (event.detail.target !== panel && !panel.contains(event.detail.target)) return;
    const trial = panel.querySelector("#trial-data");
    tell(panel.querySelector("[data-code]")?.dataset.code ?? null, trial && JSON.parse(trial.textContent));
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
