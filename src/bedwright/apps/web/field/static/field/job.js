// One job of the list: a line that can be ticked at once, and opened to see how it is done.

import { drawing, h } from "./dom.js";
import { keep, linesOf, stateOf, takeBack } from "./lines.js";
import { smallPhoto } from "./photo.js";
import { dayWords, has, number, t } from "./words.js";

const COUNTED = new Set(["sow", "set out", "sow under cover", "thin"]);

// Of the plan that is followed, or of one whose season has yet to begin.
export function plantingOf(app, { planting }) {
  return app.data?.plantings?.[planting] ?? app.data?.coming?.[planting];
}

// The crop in the reader's language; data fetched by an older release has only the book's name.
export function cropWord(planting) {
  return planting.name ?? planting.crop;
}

export function kindWord(kind) {
  return has(`kind ${kind}`) ? t(`kind ${kind}`) : kind;
}

function fieldsOf(app, job) {
  const planting = plantingOf(app, job);
  return {
    kind: job.log,
    bed: job.bed || planting?.bed || "",
    row: planting?.label ?? "",
    planting: job.planting,
    crop: planting?.crop ?? "",
    task: job.code,
  };
}

export function jobName(app, job) {
  const planting = plantingOf(app, job);
  return planting ? `${kindWord(job.kind)} ${cropWord(planting)}` : kindWord(job.kind);
}

export function jobItem(app, job, again, opened = false) {
  const planting = plantingOf(app, job);
  const { state, lines } = stateOf(app, job);
  const over = state === "done" || state === "failed" || state === "today";
  const facts = [
    planting ? rowWords(planting) : "",
    planting?.variety ?? "",
    job.min && !over ? `${number(job.min, 0)} ${t("min")}` : "",
    over ? "" : t("until", { day: dayWords(job.end) }),
  ].filter(Boolean).join(" · ");
  const head = h("summary", {}, h("span", { class: "what" }, jobName(app, job)), h("span", { class: "facts" }, facts),
    stateWords(state, lines));
  const details = h("details", { class: "job-more" }, head);
  const fill = () => { if (details.open && details.children.length === 1) details.append(more(app, job, planting, state, again)); };
  details.addEventListener("toggle", fill);
  if (opened) { details.open = true; fill(); }
  const item = h("li", { class: `job ${over ? "over" : ""}`, "data-task": job.code }, details, quick(app, job, state, lines, again));
  return item;
}

export function rowWords(planting) {
  const rows = planting.rows;
  return rows.length === 1 ? rows[0] : `${rows[0]} – ${rows[rows.length - 1]}`;
}

function stateWords(state, lines) {
  const waits = lines.some((line) => line.waits);
  const days = lines.map((line) => line.day).sort();
  const amount = lines.filter((line) => line.quantity !== null && line.quantity !== undefined && line.unit === "plants");
  const count = amount.length ? `, ${number(amount.reduce((sum, line) => sum + line.quantity, 0), 0)} ${t("plants")}` : "";
  const words = {
    done: () => t("done_on", { day: dayWords(days[0]) }) + count,
    today: () => t("done_today"),
    partly: () => t("partly_done") + count,
    failed: () => t("failed"),
  }[state];
  return words ? h("span", { class: "state" }, words(), waits ? ` (${t("waits")})` : "") : null;
}

function quick(app, job, state, lines, again) {
  if (!app.mayRecord || state === "failed") return null;
  if (job.kind === "pick") {
    return h("a", { class: "button tick", href: `#weigh=${encodeURIComponent(job.planting)}` }, t("weigh"));
  }
  if (state === "done" || state === "today") {
    const mine = lines.filter((line) => line.mine && (state === "done" ? !line.partly : line.day === app.today));
    return mine.length ? h("button", {
      type: "button", class: "quiet tick", onclick: async () => {
        await takeBack(app, { ...fieldsOf(app, job), id: mine[mine.length - 1].id });
        again();
      },
    }, t("undo"), h("span", { class: "unseen" }, ` ${jobName(app, job)}`)) : null;
  }
  return h("button", {
    type: "button", class: "tick", onclick: async () => {
      // What is done anew every day is never finished by one tick.
      if (await keep(app, { ...fieldsOf(app, job), partly: job.every_day }, `${jobName(app, job)}: ${t("done")}`)) again();
    },
  }, t("done"), h("span", { class: "unseen" }, ` ${jobName(app, job)}`));
}

function more(app, job, planting, state, again) {
  const box = h("div", { class: "more" });
  if (job.words) box.append(h("p", { class: "words" }, job.words));
  if (job.moved) box.append(h("p", { class: "note" }, t("moved", { n: job.moved })));
  if (job.picture && app.data.pictures[job.picture]) box.append(drawing(app.data.pictures[job.picture], "picture"));
  if (job.bed && app.data.plantings[job.planting]) box.append(bedDrawing(app, planting));
  if (job.tools.length) box.append(h("p", {}, t("tools", { tools: job.tools.join(", ") })));
  if (job.cautions.length) box.append(cautions(app, job));
  if (app.mayRecord && state !== "failed" && job.kind !== "pick") box.append(form(app, job, planting, state, again));
  return box;
}

function cautions(app, job) {
  return h("div", { class: "cautions" }, h("p", { class: "cautions-head" }, t("cautions")), h("ul", {}, job.cautions.map((caution) => h("li", {},
    caution.text, h("details", { class: "source" }, h("summary", {}, t("source", { source: "" }).replace(/[:\s]+$/, "")), h("p", { lang: "en" }, caution.source))))),
    app.data.local ? h("p", {}, app.data.local) : null);
}

// The bed from above, with what stands there now and this planting drawn heavily.
export function bedDrawing(app, planting) {
  const bed = app.data.beds.find((each) => each.code === planting.bed);
  if (!bed) return "";
  const box = drawing(bed.plan, "bed-plan");
  const day = planting.in_ground > app.today ? planting.in_ground : app.today;
  for (const group of box.querySelectorAll("g.rows")) {
    const other = app.data.plantings[group.dataset.planting];
    const stands = other && !other.gone && other.in_ground <= day && other.clear >= day;
    group.classList.toggle("there", Boolean(stands) || other === planting);
    group.classList.toggle("this", other === planting);
  }
  // Drawn last, so that it lies on top.
  const mine = box.querySelector("g.this");
  mine?.parentNode.append(mine);
  const where = t("from_peg", { start: planting.along[0], end: planting.along[1] });
  return h("div", {}, h("p", { class: "bed-name" }, `${t("bed", { code: bed.code })}${bed.name ? ` · ${bed.name}` : ""}`, h("br"), h("span", { class: "from-peg" }, where)), box);
}

function form(app, job, planting, state, again) {
  const count = COUNTED.has(job.kind) && planting ? h("input", { type: "number", inputmode: "numeric", min: 0, step: 1, placeholder: planting.n, id: `n-${job.code}` }) : null;
  const note = h("textarea", { id: `note-${job.code}`, rows: 2, maxlength: 4000 });
  const photos = photoField(`photo-${job.code}`);
  const write = async (partly) => {
    const quantity = count && count.value !== "" ? { quantity: Number(count.value), unit: "plants" } : {};
    const what = `${jobName(app, job)}: ${partly ? t("part_done") : t("done")}`;
    const kept = await keep(app, { ...fieldsOf(app, job), ...quantity, note: note.value.trim(), partly: partly || job.every_day }, what, await photos.taken());
    if (kept) again();
  };
  const whole = state === "done" ? null : h("button", { type: "button", onclick: () => write(false) }, t("done"));
  const part = job.every_day ? null : h("button", { type: "button", class: "quiet", onclick: () => write(true) }, t("part_done"));
  return h("div", { class: "write" },
    count ? h("div", { class: "field" }, h("label", { for: count.id }, t("how_many")), count) : null,
    h("div", { class: "field" }, h("label", { for: note.id }, t("note")), note),
    photos.box, h("div", { class: "actions" }, whole, part));
}

export function photoField(id) {
  const said = h("span", { class: "note" });
  const input = h("input", { type: "file", accept: "image/*", capture: "environment", id, class: "unseen", multiple: true, onchange: () => {
    said.textContent = input.files.length ? t("photo_ready", { n: input.files.length }) : "";
  } });
  return {
    box: h("div", { class: "field photo" }, input, h("label", { for: id, class: "button quiet" }, t("photo")), said),
    taken: () => Promise.all([...input.files].map(smallPhoto)),
  };
}

export { linesOf };
