// Large keys for one number, for wet hands.

import { h } from "./dom.js";
import { t } from "./words.js";

const MOST_SIGNS = 7;

export function keypad({ units, unit, onunit }) {
  let typed = "";
  const figure = h("output", { class: "figure", "aria-live": "off" });
  const unitWord = h("span", { class: "unit" }, t(unit));
  const point = t("point");

  function show() {
    figure.textContent = typed === "" ? "0" : typed.replace(".", point);
    figure.classList.toggle("empty", typed === "");
  }

  function press(key) {
    if (key === "<") typed = typed.slice(0, -1);
    else if (key === ".") typed = typed.includes(".") ? typed : `${typed || "0"}.`;
    else if (typed.length < MOST_SIGNS) typed = typed === "0" ? key : typed + key;
    navigator.vibrate?.(12);
    show();
  }

  const key = (sign, label, className = "") => h("button", { type: "button", class: `key ${className}`, onclick: () => press(sign), "aria-label": label }, label === sign ? sign : sign === "<" ? "⌫" : point);
  const keys = h("div", { class: "keys" }, ["7", "8", "9", "4", "5", "6", "1", "2", "3"].map((sign) => key(sign, sign)),
    key(".", point, "point"), key("0", "0"), key("<", t("delete"), "delete"));
  const toggles = units.length < 2 ? null : h("div", { class: "units", role: "group", "aria-label": t("change") }, units.map((each) => h("button", {
    type: "button", class: "quiet", "data-unit": each, "aria-pressed": each === unit ? "true" : "false",
    onclick: () => { unit = each; mark(); onunit?.(each); },
  }, t(each))));

  function mark() {
    unitWord.textContent = t(unit);
    toggles?.querySelectorAll("button").forEach((button) => button.setAttribute("aria-pressed", String(button.dataset.unit === unit)));
  }

  // A real keyboard works too.
  const box = h("div", { class: "keypad", onkeydown: (event) => {
    if (/^[0-9]$/.test(event.key)) press(event.key);
    else if (event.key === "." || event.key === ",") press(".");
    else if (event.key === "Backspace") { press("<"); event.preventDefault(); }
  } }, h("div", { class: "display" }, figure, unitWord, toggles), keys);
  show();
  return {
    box,
    get value() { return typed === "" ? null : Number(typed); },
    get unit() { return unit; },
    get text() { return typed.replace(".", point); },
    clear() { typed = ""; show(); },
  };
}
