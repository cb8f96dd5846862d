// Hours: in at the gate, out at the gate.

import { h } from "./dom.js";
import { holding, keep, takeBack } from "./lines.js";
import { number, t, timeWords } from "./words.js";

const LONG_MIN = 12 * 60;
let people = 1;

export function hoursView(app, again) {
  const mine = holding(app);
  const ended = new Set(mine.filter(({ line }) => line.kind === "left").map(({ line }) => line.ends));
  const struck = new Set(app.local.map(({ line }) => line.corrects).filter(Boolean));
  const here = mine.filter(({ line }) => line.kind === "came" && !ended.has(line.id)).map(({ line }) => ({ id: line.id, at: line.written_at, n: line.n_people ?? 1, line }));
  const elsewhere = (app.data.signed_in ?? []).filter((each) => !ended.has(each.id) && !struck.has(each.id) && !here.some((one) => one.id === each.id) && !app.local.some(({ line }) => line.id === each.id));
  const open = [...here, ...elsewhere.map((each) => ({ ...each, n: each.n ?? 1, line: { kind: "came", id: each.id } }))];
  const shown = h("output", { class: "people" }, String(people));
  const step = (by) => { people = Math.min(200, Math.max(1, people + by)); shown.textContent = String(people); };
  const come = async () => {
    if (await keep(app, { kind: "came", n_people: people }, `${t("come")} (${people})`)) { people = 1; again(); }
  };
  const left = mine.filter(({ line }) => line.kind === "left" && line.day === app.deviceDay);
  return h("div", {}, h("h1", {}, t("hours")),
    h("div", { class: "stepper", role: "group", "aria-label": t("people") }, h("button", { type: "button", class: "quiet", "aria-label": t("fewer"), onclick: () => step(-1) }, "−"),
      h("span", {}, t("people"), " ", shown), h("button", { type: "button", class: "quiet", "aria-label": t("more"), onclick: () => step(1) }, "+")),
    h("button", { type: "button", class: "wide save", onclick: come }, t("come")),
    open.length ? h("ul", { class: "signed" }, open.map((each) => signedIn(app, each, again))) : h("p", { class: "note" }, t("nobody")),
    left.length ? h("section", {}, h("h2", {}, t("worked_today")), h("ul", { class: "rows" }, left.map(({ line }) => h("li", {}, h("b", {}, t("worked", { hours: number(line.person_min / 60, 1), n: line.n_people })),
      h("button", { type: "button", class: "quiet", onclick: async () => { await takeBack(app, line); again(); } }, t("undo")))))) : null);
}

function signedIn(app, each, again) {
  const box = h("li", {});
  // Asked for when it is needed: the page may have been open all day.
  const sinceMin = () => Math.round((Date.now() - Date.parse(each.at)) / 60000);
  const leave = async (eachMin) => {
    const fields = { kind: "left", ends: each.id, n_people: each.n, person_min: Math.round(eachMin) * each.n };
    if (await keep(app, fields, t("worked", { hours: number(fields.person_min / 60, 1), n: each.n }))) again();
  };
  const ask = () => {
    // A clock that was set in between, or somebody who forgot: the person knows, the phone does not.
    const input = h("input", { type: "number", inputmode: "decimal", step: 0.25, min: 0, max: 24, id: `h-${each.id}` });
    box.append(h("div", { class: "confirm" }, h("label", { for: input.id }, t("long_day", { hours: number(sinceMin() / 60, 1) })), h("p", { class: "note" }, t("hours_each")), input,
      h("button", { type: "button", onclick: () => { if (input.value !== "" && input.checkValidity()) leave(Number(input.value) * 60); } }, t("save"))));
    input.focus();
  };
  box.append(h("span", {}, t("came_at", { time: timeWords(new Date(each.at)), n: each.n })),
    h("button", { type: "button", class: "wide", onclick: () => (sinceMin() < 0 || sinceMin() > LONG_MIN ? ask() : leave(sinceMin())) }, t("leave")),
    h("button", { type: "button", class: "quiet", onclick: async () => { await takeBack(app, each.line); again(); } }, t("undo")));
  return box;
}
