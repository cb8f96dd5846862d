// Every row of the plan, and one row with what can be done there.

import { h, say } from "./dom.js";
import { bedDrawing, cropWord, jobItem, photoField, rowWords } from "./job.js";
import { amountWords, keep } from "./lines.js";
import { dayWords, t } from "./words.js";

export function rowsView(app) {
  const box = h("div", {}, h("h1", {}, t("find_row")));
  for (const bed of app.data.beds) {
    const here = Object.values(app.data.plantings).filter((planting) => planting.bed === bed.code).sort((one, other) => one.in_ground.localeCompare(other.in_ground));
    if (!here.length) continue;
    box.append(h("details", { class: "bed-rows" }, h("summary", {}, h("b", {}, bed.code), ` ${bed.name}`), h("ul", { class: "crop-list" }, here.map(choice))));
  }
  return box;
}

function choice(planting) {
  return h("li", {}, h("a", { class: "crop-link", href: `#row=${encodeURIComponent(planting.label)}` }, h("b", {}, rowWords(planting)), h("span", {}, `${cropWord(planting)} ${planting.variety}`)));
}

export function rowView(app, again, code) {
  const planting = Object.values(app.data.plantings).find((each) => each.rows.includes(code));
  if (!planting) return h("div", {}, h("h1", {}, code), h("p", {}, t("no_row", { code })), rowsView(app));
  const us = app.data.units === "us";
  const put = planting.way === "sow" ? ["sow_on", "sown_on"] : ["set_on", "set_out_on"];
  const facts = [
    planting.done ? t(put[1], { day: dayWords(planting.done) }) : t(put[0], { day: dayWords(planting.in_ground) }),
    planting.late ? t("late_by", { n: planting.late }) : "",
    planting.failed ? t("failed") : "",
    planting.food ? t("pick_from", { start: dayWords(planting.pick[0]), end: dayWords(planting.pick[1]) }) : "",
    t("plants_left", { left: planting.left, n: planting.n }),
    planting.kg ? t("picked_kg", { what: amountWords(planting.kg, "kg", us) }) : "",
    planting.eaten.length ? t("eaten", { parts: planting.eaten.join(", ") }) : "",
    planting.not_eaten.length ? t("not_eaten", { parts: planting.not_eaten.join("; ") }) : "",
  ].filter(Boolean);
  const jobs = app.data.jobs.filter((job) => job.planting === planting.code);
  const others = Object.values(app.data.plantings).filter((each) => each.bed === planting.bed && each !== planting && !each.gone);
  return h("div", {}, h("h1", {}, `${code} ${cropWord(planting)}`, planting.variety ? h("span", { class: "variety" }, ` ${planting.variety}`) : null),
    h("ul", { class: "facts-list" }, facts.map((fact) => h("li", {}, fact))), bedDrawing(app, planting),
    jobs.length ? h("section", {}, h("h2", {}, t("jobs_here")), h("ul", { class: "jobs" }, jobs.map((job) => jobItem(app, job, again)))) : null,
    app.mayRecord ? actions(app, again, planting, code) : null,
    app.pegs ? h("p", {}, h("a", { href: `${app.pegs}${encodeURIComponent(code)}?card=1` }, t("card"))) : null,
    others.length ? h("details", { class: "bed-rows" }, h("summary", {}, t("others_here")), h("ul", { class: "crop-list" }, others.map(choice))) : null);
}

function actions(app, again, planting, code) {
  const fields = { bed: planting.bed, row: code, planting: planting.code, crop: planting.crop };
  const number = (id, label, kind) => {
    const input = h("input", { type: "number", inputmode: "numeric", min: 0, max: 100000, step: 1, id });
    return h("div", { class: "field counted" }, h("label", { for: id }, label), h("div", { class: "inline" }, input, h("button", { type: "button", onclick: async () => {
      if (input.value === "" || !input.checkValidity()) { input.focus(); return; }
      if (await keep(app, { ...fields, kind, quantity: Number(input.value), unit: "plants" }, `${label}: ${input.value}`)) again();
    } }, t("write_down"))));
  };
  const note = h("textarea", { id: "row-note", rows: 2, maxlength: 4000 });
  const photos = photoField("row-photo");
  const write = async () => {
    const taken = await photos.taken();
    if (!note.value.trim() && !taken.length) { say(t("empty_note")); return; }
    if (await keep(app, { ...fields, kind: "seen", note: note.value.trim() }, t("log seen"), taken)) again();
  };
  const simple = (label, kind, className) => h("button", { type: "button", class: className, onclick: async () => {
    if (await keep(app, { ...fields, kind }, `${cropWord(planting)}: ${label}`)) again();
  } }, label);
  return h("section", { class: "row-actions" }, h("h2", {}, t("write_down")),
    h("div", { class: "actions" }, planting.food ? h("a", { class: "button", href: `#weigh=${encodeURIComponent(planting.code)}` }, t("weigh")) : null, planting.way === "sow" ? simple(t("through"), "emerged", "quiet") : null),
    number("row-count", t("count"), "counted"), number("row-lost", t("lost"), "failed"), simple(t("all_lost"), "failed", "grave"),
    h("div", { class: "field" }, h("label", { for: "row-note" }, t("write_note")), note), photos.box, h("button", { type: "button", onclick: write }, t("write_down")));
}
