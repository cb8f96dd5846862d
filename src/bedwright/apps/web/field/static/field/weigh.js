// A crate on the scales: type, save, next. The crop of the last crate is there again at once.

import { h, put, say } from "./dom.js";
import { keypad } from "./keypad.js";
import { amountWords, holding, keep, takeBack, toSi } from "./lines.js";
import { number, t } from "./words.js";
import { cropWord, rowWords } from "./job.js";

const LOT_KG = 40;
const MOST_KG = 5000;

export function weighView(app, again, chosen) {
  const box = h("div", { class: "weigh" });
  const food = Object.values(app.data.plantings).filter((planting) => planting.food && !planting.failed);
  const code = chosen || app.last.planting;
  const planting = food.find((each) => each.code === code);
  if (!planting || chosen === "?") {
    box.append(h("h1", {}, t("what_picked")), choices(app, food));
    return box;
  }
  const unit = app.last.massUnit ?? (app.data.units === "us" ? "lb" : "kg");
  let sure = null;
  const pad = keypad({ units: ["kg", "lb"], unit, onunit: (each) => app.remember({ massUnit: each }).then(again) });
  const confirm = h("div", { class: "confirm", role: "alert" });

  async function weigh(value, unitNow) {
    const { quantity } = toSi(value, unitNow);
    const what = `${number(value)} ${t(unitNow)}`;
    if (quantity > MOST_KG) { say(t("much", { what })); return; }
    if (quantity > LOT_KG && sure !== what) {
      sure = what;
      confirm.replaceChildren(h("p", {}, t("much", { what })), h("button", { type: "button", onclick: () => weigh(value, unitNow) }, t("yes", { what })));
      // On a small screen the question would lie below the keys.
      confirm.scrollIntoView({ block: "center" });
      return;
    }
    const fields = {
      kind: "picked", bed: planting.bed, row: planting.label, planting: planting.code, crop: planting.crop,
      task: `${planting.code}:pick`, quantity, unit: "kg",
    };
    if (!(await keep(app, fields, `${what} ${cropWord(planting)}`))) return;
    await app.remember({ planting: planting.code, crate: { value, unit: unitNow } });
    again();
  }

  const save = h("button", { type: "button", class: "wide save", onclick: () => {
    if (!pad.value) { say(t("nothing_typed")); return; }
    weigh(pad.value, pad.unit);
  } }, t("save"));
  const last = app.last.crate;
  const repeat = last && app.last.planting === planting.code
    ? h("button", { type: "button", class: "quiet wide repeat", onclick: () => weigh(last.value, last.unit) }, t("repeat", { what: `${number(last.value)} ${t(last.unit)}` }))
    : null;
  put(box, h("h1", { class: "unseen" }, t("weigh")),
    h("a", { class: "crop-now", href: "#weigh=%3F" }, h("b", {}, cropWord(planting)), h("span", {}, `${rowWords(planting)} ${planting.variety}`), h("span", { class: "change" }, t("change"))),
    pad.box, confirm, h("div", { class: "two" }, repeat, save), crates(app, again));
  return box;
}

function choices(app, food) {
  const now = food.filter((planting) => planting.pick[0] <= app.today && planting.pick[1] >= app.today && !planting.gone);
  const rest = food.filter((planting) => !now.includes(planting)).sort((one, other) => cropWord(one).localeCompare(cropWord(other)));
  const item = (planting) => h("li", {}, h("a", { class: "crop-link", href: `#weigh=${encodeURIComponent(planting.code)}` }, h("b", {}, cropWord(planting)), h("span", {}, `${rowWords(planting)} ${planting.variety}`)));
  return h("div", {},
    now.length ? h("h2", {}, t("due_now")) : null, now.length ? h("ul", { class: "crop-list" }, now.map(item)) : null,
    now.length ? h("h2", {}, t("other_crops")) : null, h("ul", { class: "crop-list" }, rest.map(item)));
}

function crates(app, again) {
  const today = holding(app).filter(({ line }) => line.kind === "picked" && line.day === app.deviceDay);
  if (!today.length) return null;
  const us = (app.last.massUnit ?? (app.data.units === "us" ? "lb" : "kg")) === "lb";
  const nameOf = (line) => cropWord(app.data.plantings[line.planting] ?? line);
  const sum = today.reduce((total, { line }) => total + line.quantity, 0);
  return h("section", { class: "crates" }, h("h2", {}, t("crates")), h("ul", { class: "rows" }, [...today].reverse().map(({ line }) => h("li", {},
    h("span", {}, h("b", {}, amountWords(line.quantity, "kg", us)), ` ${nameOf(line)} ${line.row}`),
    h("button", { type: "button", class: "quiet", onclick: async () => { await takeBack(app, line); again(); } }, t("undo"), h("span", { class: "unseen" }, ` ${amountWords(line.quantity, "kg", us)} ${nameOf(line)}`))))),
    h("p", {}, t("total", { what: amountWords(sum, "kg", us) })));
}
