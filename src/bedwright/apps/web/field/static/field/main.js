// The field pages: one page with several views, chosen by the part of the address after #.

import { clockIsWrong, dayIn, likelyNow, plusDays } from "./days.js";
import { h, hush } from "./dom.js";
import { hoursView } from "./hours.js";
import { linesOf } from "./lines.js";
import { rainView } from "./rain.js";
import { rowView, rowsView } from "./rows.js";
import { sentView } from "./sent.js";
import { newId, openStore } from "./store.js";
import { askData, askState, ClosedError, dropSent, sendWaiting, SignedOutError } from "./sync.js";
import { todayView } from "./today.js";
import { weighView } from "./weigh.js";
import { momentWords, dayWords, t } from "./words.js";

const SETTINGS = JSON.parse(document.getElementById("settings").textContent);
const EVERY_MS = 60000;
const DATA_ANEW_MS = 5 * 60000;

const app = {
  addresses: SETTINGS.addresses,
  store: null,
  data: null,
  local: [],
  /** Jobs written down since the page was opened: they stay in the list, so that nothing moves under a thumb. */
  touched: new Set(),
  photos: [],
  last: {},
  author: null,
  device: null,
  serverTime: null,
  aheadMs: 0,
  pegs: "",
  mayRecord: false,
  signedOut: false,
  closed: false,
  online: true,
  sending: false,
  zone: "UTC",
  get today() { return dayIn(likelyNow(this.serverTime, this.aheadMs), this.zone); },
  get deviceDay() { return dayIn(new Date(), this.zone); },
  async reread() {
    this.local = await this.store.lines();
    this.photos = await this.store.photos();
    status();
  },
  async remember(values) {
    this.last = { ...this.last, ...values };
    try {
      await this.store.set("last", this.last);
    } catch { /* a convenience; lines matter more */ }
  },
  send,
};

function view() {
  const [name, ...rest] = location.hash.slice(1).split("=");
  return [name || "today", decodeURIComponent(rest.join("="))];
}

let shown = "";

function draw() {
  const main = document.getElementById("main");
  const [name, value] = view();
  for (const link of document.querySelectorAll("nav.tabs a")) {
    const here = link.dataset.view === name || (link.dataset.view === "rows" && name === "row");
    if (here) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  status();
  banners();
  const content = page(name, value);
  const top = window.scrollY;
  main.replaceChildren(content);
  main.setAttribute("aria-busy", String(toCome()));
  const title = main.querySelector("h1")?.textContent;
  if (title) document.title = `${title} · Bedwright`;
  const now = location.hash;
  window.scrollTo(0, now === shown ? top : 0);
  if (now !== shown && shown !== "") main.focus({ preventScroll: true });
  shown = now || "#today";
}

function page(name, value) {
  if (name === "sent") return sentView(app, draw);
  if (app.closed || (app.signedOut && !app.data)) return h("h1", {}, t("sign_in"));
  if (!app.data) return h("div", {}, h("h1", {}, t("today")), h("p", {}, app.online ? t("loading") : t("no_data")));
  if (!app.mayRecord && ["weigh", "rain", "hours"].includes(name)) return h("div", {}, h("h1", {}, t(name)), h("p", {}, t("readonly")));
  if (name === "weigh") return weighView(app, draw, value);
  if (name === "rain") return rainView(app, draw);
  if (name === "hours") return hoursView(app, draw);
  if (name === "rows") return rowsView(app);
  if (name === "row") return rowView(app, draw, value);
  return todayView(app, draw);
}

function waitingCount() {
  return app.local.filter((record) => record.state === "waiting").length + app.photos.filter((photo) => photo.state === "waiting").length;
}

function toCome() {
  return !app.data && app.online && !app.signedOut && !app.closed;
}

function status() {
  const link = document.getElementById("sending");
  const stuck = app.local.filter((record) => record.state === "refused" || record.state === "other").length + app.photos.filter((photo) => photo.state === "refused").length;
  // Nothing is "all sent" before the first jobs are there: who walks off now has an empty phone.
  const words = [app.online ? "" : t("offline"), toCome() ? t("loading") : "", waitingCount() ? t("waiting", { n: waitingCount() }) : "", stuck ? t("attention", { n: stuck }) : ""].filter(Boolean);
  link.textContent = words.length ? words.join(" · ") : t("all_sent");
  link.classList.toggle("waits", waitingCount() > 0 || stuck > 0);
}

function banners() {
  const box = document.getElementById("banners");
  const found = [];
  if (app.closed) found.push(h("p", { class: "banner" }, t("closed")));
  else if (app.signedOut) found.push(h("p", { class: "banner" }, t("signed_out", { n: waitingCount() }), " ", h("a", { href: app.addresses.sign_in }, t("sign_in"))));
  if (clockIsWrong(app.serverTime, app.aheadMs)) found.push(h("p", { class: "banner" }, t("clock_wrong", { clock: momentWords(new Date()) })));
  if (app.data && !app.online && app.data.jobs.length && plusDays(app.data.today, 12) < app.today) {
    found.push(h("p", { class: "banner" }, t("old_data", { when: momentWords(new Date(app.data.drawn_at)), until: dayWords(plusDays(app.data.today, 18)) })));
  }
  if (!window.isSecureContext) found.push(h("p", { class: "banner" }, t("insecure")));
  box.replaceChildren(...found);
}

function take(data) {
  app.data = { ...data, jobs: withTouched(app.data?.jobs ?? [], data.jobs) };
  app.zone = data.zone;
  app.mayRecord = data.may_record;
}

// Jobs of long ago are no longer told of once they are done; one ticked just now stays until the page is left.
function withTouched(had, jobs) {
  const told = new Set(jobs.map((job) => job.code));
  const gone = had.filter((job) => app.touched.has(job.code) && !told.has(job.code));
  if (!gone.length) return jobs;
  const place = new Map(had.map((job, k) => [job.code, k]));
  const kept = gone.map((job) => ({ ...job, lines: linesOf(app, job).map((line) => ({ ...line, waits: false })) }));
  return [...jobs, ...kept].sort((one, other) => (place.get(one.code) ?? had.length) - (place.get(other.code) ?? had.length));
}

// Sends what waits and fetches what is new; one at a time over all windows of this browser.
async function send(fresh = false) {
  if (!navigator.locks) return exchange(fresh);
  return navigator.locks.request(`bedwright-field-${SETTINGS.garden}`, () => exchange(fresh));
}

async function exchange(fresh) {
  app.sending = true;
  try {
    const state = await askState(app);
    Object.assign(app, { online: true, signedOut: false, closed: false, author: state.author, aheadMs: state.ahead_ms, serverTime: state.server_time, pegs: state.pegs });
    await releaseOthers(state.author);
    const sent = await sendWaiting(app, state);
    if (sent || fresh || !app.data || Date.parse(state.server_time) - Date.parse(app.data.drawn_at) > DATA_ANEW_MS) {
      const data = await askData(app);
      take(data);
      app.serverTime = data.drawn_at;
      await app.store.set("data", data);
      await dropSent(app, data.drawn_at);
      await app.reread();
      if (shown === "" || !editing()) draw();
    }
    await app.store.set("known", { author: app.author, serverTime: app.serverTime, aheadMs: app.aheadMs, pegs: app.pegs });
    watchPegs();
  } catch (error) {
    await failed(error);
  } finally {
    app.sending = false;
    await app.reread();
    banners();
  }
}

// Lines that waited for their author go on once that person is signed in again.
async function releaseOthers(author) {
  for (const record of await app.store.lines()) {
    if (record.state === "other" && record.line.author === author) await app.store.put("lines", { ...record, state: "waiting", problems: [] });
  }
}

async function failed(error) {
  if (error instanceof SignedOutError || error instanceof ClosedError) {
    app.online = true;
    app.signedOut = error instanceof SignedOutError;
    app.closed = error instanceof ClosedError;
    // Whoever still has lines here goes on working; otherwise the plan is not left on the phone.
    if (app.closed || waitingCount() === 0) {
      app.data = null;
      await app.store.remove("kept", ["data"]);
    }
    draw();
  } else {
    app.online = false;
    if (!app.data) draw();
  }
}

// Nobody's half-typed number is taken away by a new fetch.
function editing() {
  const main = document.getElementById("main");
  const typed = [...main.querySelectorAll("input:not([type=file]), textarea")].some((field) => field.value !== "");
  const files = [...main.querySelectorAll("input[type=file]")].some((field) => field.files.length);
  const figure = main.querySelector(".figure:not(.empty)");
  return typed || files || Boolean(figure) || main.querySelector("details.job-more[open]") !== null;
}

function watchPegs() {
  if (!("serviceWorker" in navigator) || !app.pegs) return;
  navigator.serviceWorker.register(`${app.pegs}worker.js?to=${encodeURIComponent(app.addresses.shell)}`, { scope: app.pegs }).catch(() => undefined);
}

async function start() {
  if ("serviceWorker" in navigator) navigator.serviceWorker.register(app.addresses.worker).catch(() => undefined);
  try {
    app.store = await openStore(SETTINGS.garden);
  } catch {
    const main = document.getElementById("main");
    main.replaceChildren(h("h1", {}, t("today")), h("p", { class: "problem" }, t("no_store")));
    main.setAttribute("aria-busy", "false");
    return;
  }
  navigator.storage?.persist?.();
  app.last = (await app.store.get("last")) ?? {};
  app.device = await app.store.get("device");
  if (!app.device) {
    app.device = newId();
    await app.store.set("device", app.device).catch(() => undefined);
  }
  Object.assign(app, (await app.store.get("known")) ?? {});
  const data = await app.store.get("data");
  if (data) take(data);
  await app.reread();
  draw();
  window.addEventListener("hashchange", () => { hush(); draw(); });
  // Whoever works on has read it; it must not lie over what is wanted next.
  document.getElementById("main").addEventListener("pointerdown", hush);
  window.addEventListener("online", () => send());
  window.addEventListener("offline", () => { app.online = false; status(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) send(); });
  window.setInterval(() => { if (!document.hidden) send(); }, EVERY_MS);
  await send(true);
}

start();
