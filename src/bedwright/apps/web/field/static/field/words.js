// Texts in the reader's language, as the server put them into the page.

const WORDS = JSON.parse(document.getElementById("words").textContent);
// Plain "en" would write days in the order of one country; this one is read alike everywhere.
const LANGUAGE = document.documentElement.lang === "en" ? "en-GB" : document.documentElement.lang;

export function t(key, values = {}) {
  const text = WORDS[key] ?? key;
  return text.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
}

export function has(key) {
  return key in WORDS;
}

export function number(value, digits = 2) {
  return new Intl.NumberFormat(LANGUAGE, { maximumFractionDigits: digits }).format(value);
}

export function dayWords(day) {
  const [year, month, date] = day.split("-").map(Number);
  const moment = new Date(Date.UTC(year, month - 1, date));
  return new Intl.DateTimeFormat(LANGUAGE, { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" }).format(moment);
}

export function momentWords(moment) {
  return new Intl.DateTimeFormat(LANGUAGE, { dateStyle: "medium", timeStyle: "short" }).format(moment);
}

export function timeWords(moment) {
  return new Intl.DateTimeFormat(LANGUAGE, { timeStyle: "short" }).format(moment);
}
