// The panel beside a drawing: filled by htmx, told to the drawing once it is shown.

/** The server told of a fault, or was not reached. A session that is over leads to signing in. */
const FAILED = ["htmx:responseError", "htmx:sendError"];
const side = () => document.getElementById("side");

/** Load an address into the panel; resolves with the panel once its forms are htmx's own, or with null without an answer. */
export function show(url) { return into("GET", url); }

/** Send values to an address and show the answer in the panel. */
export function send(url, values, token) { return into("POST", url, { values, headers: { "X-CSRFToken": token } }); }

function into(verb, url, more = {}) {
  return new Promise((resolve) => {
    const over = (event) => {
      if (event.detail.target !== side()) return;
      for (const name of ["htmx:afterSettle", ...FAILED]) document.body.removeEventListener(name, over);
      resolve(event.type === "htmx:afterSettle" ? side() : null);
    };
    for (const name of ["htmx:afterSettle", ...FAILED]) document.body.addEventListener(name, over);
    window.htmx.ajax(verb, url, { target: "#side", swap: "innerHTML", ...more });
  });
}

/** Call back with the code of the planting shown; with a plan on trial, and whether a move was refused or kept. */
export function whenShown(tell) {
  document.body.addEventListener("htmx:afterSettle", (event) => {
    const panel = side();
    if (event.detail.target !== panel && !panel.contains(event.detail.target)) return;
    const trial = panel.querySelector("#trial-data");
    panel.scrollTop = 0;
    const has = (mark) => panel.querySelector(mark) !== null;
    tell(panel.querySelector("[data-code]")?.dataset.code ?? null, { trial: trial && JSON.parse(trial.textContent), refused: has("[data-refused]"), kept: has("[data-kept]") });
    // Who came by a link goes on reading in the panel; a pointer stays on the drawing.
    if (event.detail.requestConfig?.elt?.matches?.("a")) panel.focus({ preventScroll: true });
    // Below the drawing the panel is out of sight on narrow screens.
    const box = panel.getBoundingClientRect();
    if (box.top > window.innerHeight - 80 || box.bottom < 80) panel.scrollIntoView({ block: "start" });
  });
}

/** Say in the panel that no answer came, and call back: what was pulled goes back to its place. */
export function whenFailed(tell) {
  for (const name of FAILED) {
    document.body.addEventListener(name, (event) => {
      const panel = side();
      if (event.detail.target !== panel && !panel.contains(event.detail.target)) return;
      if (!panel.querySelector("[data-unanswered]")) {
        const said = document.createElement("p");
        said.className = "problem";
        said.setAttribute("role", "alert");
        said.dataset.unanswered = "";
        said.textContent = panel.dataset.failed;
        panel.prepend(said);
        panel.scrollTop = 0;
      }
      tell();
    });
  }
}

/** Mark the links of a planting as the current ones. */
export function markCurrent(within, code) {
  for (const node of within.querySelectorAll("[data-code]")) {
    const link = node.matches("a") ? node : node.querySelector("a");
    if (node.dataset.code === code) link?.setAttribute("aria-current", "true");
    else link?.removeAttribute("aria-current");
  }
}
