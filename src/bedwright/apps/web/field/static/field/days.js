// Days in the garden's calendar, and what to think of this phone's clock.

const TOLERATED_MS = 10 * 60 * 1000;

export function dayIn(moment, zone) {
  const parts = new Intl.DateTimeFormat("en-CA", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit" }).formatToParts(moment);
  const part = (type) => parts.find((each) => each.type === type).value;
  return `${part("year").padStart(4, "0")}-${part("month")}-${part("day")}`;
}

export function plusDays(day, days) {
  const [year, month, date] = day.split("-").map(Number);
  return new Date(Date.UTC(year, month - 1, date + days)).toISOString().slice(0, 10);
}

export function daysBetween(one, other) {
  return Math.round((Date.parse(other) - Date.parse(one)) / 86400000);
}

// Whether the clock contradicts what the server last said. It may be told so only by a moment
// that lies before the server's last one; a clock that is ahead shows when lines are sent.
export function clockIsWrong(serverTime, aheadMs) {
  if (Math.abs(aheadMs) > TOLERATED_MS) return true;
  return serverTime !== null && Date.now() < Date.parse(serverTime) - TOLERATED_MS;
}

// The best guess at now, for choosing which day's jobs to show; never written into a line.
export function likelyNow(serverTime, aheadMs) {
  const now = new Date(Date.now() - (Math.abs(aheadMs) > TOLERATED_MS ? aheadMs : 0));
  return serverTime !== null && now.getTime() < Date.parse(serverTime) - TOLERATED_MS ? new Date(serverTime) : now;
}
