// Jobs of a day or of seven, bed by bed in the order of a short walk.

import { h } from "./dom.js";
import { plusDays } from "./days.js";
import { jobItem } from "./job.js";
import { stateOf } from "./lines.js";
import { dayWords, t } from "./words.js";

let span = "day";
let leftOpen = false;

// Where nothing is due, the day on which something will be, as far as jobs are at hand.
function next(app, again) {
  const ahead = app.data.jobs.filter((job) => job.start > app.today && job.state !== "done" && job.state !== "dropped");
  if (!ahead.length) return h("p", { class: "note" }, t("nothing_ahead"));
  const day = ahead.map((job) => job.start).sort()[0];
  const soon = day <= plusDays(app.today, 6) && span === "day"
    ? h("button", { type: "button", class: "quiet", onclick: () => { span = "week"; again(); } }, t("week")) : null;
  return h("p", { class: "note" }, `${t("next_on", { day: dayWords(day) })} `, soon);
}

export function todayView(app, again) {
  const box = h("div", {});
  if (!app.data.plan) {
    box.append(h("h1", {}, t("today")), h("p", {}, t("no_plan")));
    return box;
  }
  const last = span === "day" ? app.today : plusDays(app.today, 6);
  const choose = (value) => h("button", {
    type: "button", class: "quiet", "aria-pressed": String(span === value), onclick: () => { span = value; again(); },
  }, t(value));
  box.append(h("h1", {}, span === "day" ? dayWords(app.today) : `${dayWords(app.today)} – ${dayWords(last)}`),
    h("div", { class: "spans", role: "group" }, choose("day"), choose("week")));
  const inDays = (job) => job.start <= last && job.end >= app.today;
  const touched = (job) => app.touched.has(job.code) || app.local.some((record) => record.line.task === job.code);
  const due = app.data.jobs.filter((job) => inDays(job) && (job.state !== "done" || touched(job)) && job.state !== "dropped");
  const left = app.data.jobs.filter((job) => job.end < app.today && !job.every_day && (job.state === "overdue" || job.state === "partly" || app.touched.has(job.code)));
  box.append(stops(app, due, again));
  if (left.length) {
    const open = left.filter((job) => stateOf(app, job).state !== "done").length;
    box.append(h("details", { class: "left-over", open: leftOpen, ontoggle: (event) => { leftOpen = event.target.open; } }, h("summary", {}, t("left_over", { n: open })), stops(app, left, again)));
  }
  return box;
}

function stops(app, jobs, again) {
  const box = h("div", {});
  if (!jobs.length) {
    box.append(h("p", {}, t("nothing")), next(app, again));
    return box;
  }
  if (app.data.starts_at) box.append(h("p", { class: "note" }, t("walk", { start: app.data.starts_at })));
  for (const code of ["", ...app.data.walk]) {
    const here = jobs.filter((job) => job.bed === code);
    if (!here.length) continue;
    const bed = app.data.beds.find((each) => each.code === code);
    box.append(h("section", { class: "stop" },
      h("h2", {}, bed ? h("b", {}, code) : t("under_cover"), bed ? ` ${bed.name}` : ""),
      h("ul", { class: "jobs" }, here.map((job) => jobItem(app, job, again)))));
  }
  return box;
}
