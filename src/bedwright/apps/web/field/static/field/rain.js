// The rain gauge.

import { h, say } from "./dom.js";
import { keypad } from "./keypad.js";
import { amountWords, holding, keep, takeBack, toSi } from "./lines.js";
import { number, t } from "./words.js";

const LOT_MM = 100;

export function rainView(app, again) {
  const unit = app.last.rainUnit ?? (app.data.units === "us" ? "in" : "mm");
  const pad = keypad({ units: ["mm", "in"], unit, onunit: (each) => app.remember({ rainUnit: each }) });
  const confirm = h("div", { class: "confirm", role: "alert" });
  let sure = null;

  async function write() {
    if (pad.value === null) { say(t("rain_typed")); return; }
    const { quantity } = toSi(pad.value, pad.unit);
    const what = `${number(pad.value)} ${t(pad.unit)}`;
    if (quantity > LOT_MM && sure !== what) {
      sure = what;
      confirm.replaceChildren(h("p", {}, t("much_rain", { what })), h("button", { type: "button", onclick: write }, t("yes", { what })));
      confirm.scrollIntoView({ block: "center" });
      return;
    }
    if (await keep(app, { kind: "rain", quantity, unit: "mm" }, `${t("rain")} ${what}`)) again();
  }

  const readings = holding(app).filter(({ line }) => line.kind === "rain");
  return h("div", { class: "weigh" }, h("h1", { class: "tight" }, t("gauge")), pad.box, confirm,
    h("button", { type: "button", class: "wide save", onclick: write }, t("save")), h("p", { class: "note" }, t("gauge_help")),
    readings.length ? h("ul", { class: "rows" }, readings.map(({ line }) => h("li", {}, h("span", {}, h("b", {}, amountWords(line.quantity, "mm", pad.unit === "in")), ` ${line.day}`),
      h("button", { type: "button", class: "quiet", onclick: async () => { await takeBack(app, line); again(); } }, t("undo"))))) : null);
}
