// Lines of the log: made here, laid over what the server knows, sent by sync.js.

import { FullError, newId } from "./store.js";
import { dayIn } from "./days.js";
import { hush, say } from "./dom.js";
import { number, t } from "./words.js";

const KG_PER_POUND = 0.45359237;
const MM_PER_INCH = 25.4;

export function toSi(value, unit) {
  if (unit === "lb") return { quantity: value * KG_PER_POUND, unit: "kg" };
  if (unit === "in") return { quantity: value * MM_PER_INCH, unit: "mm" };
  return { quantity: value, unit };
}

export function amountWords(quantity, unit, us) {
  if (unit === "kg" && us) return `${number(quantity / KG_PER_POUND)} ${t("lb")}`;
  if (unit === "mm" && us) return `${number(quantity / MM_PER_INCH)} ${t("in")}`;
  return `${number(quantity)} ${t(unit)}`;
}

export function lineOf(app, fields) {
  const now = new Date();
  return {
    id: newId(),
    author: app.author,
    day: dayIn(now, app.zone),
    written_at: now.toISOString(),
    seen_at: app.serverTime,
    device: app.device,
    plan: app.data?.plan ?? "",
    ...fields,
  };
}

// Keeps a line, says so, and offers to take it back. False: it was not kept, and the reason is said.
export async function keep(app, fields, what, photos = []) {
  const line = lineOf(app, fields);
  try {
    await app.store.add(line, photos.map((photo) => ({ ...photo, id: newId(), entry: line.id })));
  } catch (error) {
    say(error instanceof FullError ? t("full") : t("not_kept", { why: error?.message ?? error }));
    return null;
  }
  if (line.task) app.touched.add(line.task);
  await app.reread();
  say(t("kept", { what }), { label: t("undo"), run: () => takeBack(app, line) });
  app.send();
  return line;
}

export async function takeBack(app, line) {
  const { kind, bed, row, planting, crop, task } = line;
  const struck = lineOf(app, { kind, bed, row, planting, crop, task, corrects: line.id, struck: true });
  try {
    await app.store.add(JSON.parse(JSON.stringify(struck)));
  } catch (error) {
    say(error instanceof FullError ? t("full") : t("not_kept", { why: error?.message ?? error }));
    return;
  }
  hush();
  await app.reread();
  say(t("undone"));
  app.send();
}

// Lines of this phone that hold: not taken back, not replaced.
export function holding(app) {
  const corrected = new Set(app.local.map((record) => record.line.corrects).filter(Boolean));
  return app.local.filter((record) => !record.line.struck && !corrected.has(record.line.id));
}

// Everything known of one job: what the server had, what this phone has added, less what was taken back.
export function linesOf(app, job) {
  const found = new Map(job.lines.map((line) => [line.id, line]));
  for (const { line, state } of holding(app)) {
    const inDays = job.planting || (line.day >= job.start && line.day <= job.end);
    if (line.task === job.code && inDays) found.set(line.id, { ...line, mine: true, waits: state !== "kept" });
  }
  for (const { line } of app.local) {
    if (line.corrects) found.delete(line.corrects);
  }
  return [...found.values()];
}

export function stateOf(app, job) {
  const lines = linesOf(app, job);
  const today = app.today;
  if (job.state === "dropped") return { state: "failed", lines };
  if (job.every_day) return { state: lines.some((line) => line.day === today) ? "today" : "open", lines };
  if (lines.some((line) => !line.partly)) return { state: "done", lines };
  return { state: lines.length ? "partly" : "open", lines };
}
