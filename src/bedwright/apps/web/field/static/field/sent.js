// What this phone still holds, and why.

import { cropWord, plantingOf } from "./job.js";
import { h, say } from "./dom.js";
import { amountWords } from "./lines.js";
import { momentWords, t } from "./words.js";

export function sentView(app, again) {
  const waiting = app.local.filter((record) => record.state !== "kept");
  const photos = app.photos;
  const send = h("button", { type: "button", class: "wide", onclick: async () => { await app.send(true); again(); } }, app.sending ? t("sending") : t("send_now"));
  return h("div", {}, h("h1", {}, t("sent_title")), h("p", { class: "note" }, t("sent_help")),
    app.signedOut ? h("p", {}, h("a", { class: "button wide", href: app.addresses.sign_in }, t("sign_in"))) : null,
    waiting.length || photos.length ? send : h("p", {}, t("nothing_waits")),
    photos.length ? h("p", {}, t("photo_waits", { n: photos.length })) : null,
    h("ul", { class: "waiting" }, waiting.map((record) => item(app, record, again)), photos.filter((photo) => photo.state === "refused").map((photo) => h("li", {},
      h("p", { class: "problem" }, t("photo_refused", { why: photo.problems.join(" ") })), discard(() => app.store.remove("photos", [photo.id]), app, again)))),
    h("p", {}, h("a", { href: app.addresses.log }, t("to_log"))));
}

function item(app, record, again) {
  const { line, state } = record;
  const words = [line.struck ? t("log struck") : t(`log ${line.kind}`), line.quantity === undefined || line.quantity === null ? "" : amountWords(line.quantity, line.unit, app.data?.units === "us"), cropWord(plantingOf(app, line) ?? line), line.row || line.bed, line.note].filter(Boolean).join(" ");
  return h("li", {}, h("b", {}, words), h("span", { class: "note" }, ` ${momentWords(new Date(line.written_at))}`),
    state === "refused" ? h("p", { class: "problem" }, t("refused", { why: record.problems.join(" ") })) : null,
    state === "other" ? h("p", { class: "note" }, t("other")) : null,
    state === "refused" ? discard(() => app.store.remove("lines", [record.count]), app, again) : null);
}

// Only what the server will never take can be deleted here, and never by one touch.
function discard(run, app, again) {
  let sure = false;
  const button = h("button", { type: "button", class: "grave", onclick: async () => {
    if (!sure) {
      sure = true;
      button.textContent = t("discard_sure");
      return;
    }
    try {
      await run();
    } catch (error) {
      say(String(error));
    }
    await app.reread();
    again();
  } }, t("discard"));
  return button;
}
