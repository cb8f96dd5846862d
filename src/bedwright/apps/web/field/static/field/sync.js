// Sends what waits. A line leaves the phone only once the server has named it as kept; the server
// knows lines by their ids, so that sending twice, in whatever order, does no harm.

const BATCH = 50;
const PATIENCE_MS = 20000;

export class SignedOutError extends Error {}
export class ClosedError extends Error {}

async function ask(url, options = {}) {
  const signal = AbortSignal.timeout ? AbortSignal.timeout(PATIENCE_MS) : undefined;
  const response = await fetch(url, { credentials: "same-origin", cache: "no-store", redirect: "manual", signal, ...options });
  if (response.type === "opaqueredirect" || response.status === 401) throw new SignedOutError();
  if (response.status === 403 || response.status === 404) throw new ClosedError();
  return response;
}

export async function askState(app) {
  const asked = Date.now();
  const response = await ask(app.addresses.state);
  if (!response.ok) throw new Error(`state ${response.status}`);
  const state = await response.json();
  // Half of the way there and back; good to far better than the ten minutes that matter.
  const here = (asked + Date.now()) / 2;
  return { ...state, ahead_ms: here - Date.parse(state.server_time) };
}

export async function askData(app) {
  const response = await ask(app.addresses.data);
  if (!response.ok) throw new Error(`data ${response.status}`);
  return response.json();
}

// True if something was sent.
export async function sendWaiting(app, state) {
  const mine = (record) => record.state === "waiting" && (record.line.author === null || record.line.author === state.author);
  const lines = (await app.store.lines()).filter(mine);
  for (let start = 0; start < lines.length; start += BATCH) {
    await sendLines(app, state, lines.slice(start, start + BATCH));
  }
  const written = new Set((await app.store.lines()).filter((record) => record.state === "waiting").map((record) => record.line.id));
  const photos = (await app.store.photos()).filter((photo) => photo.state === "waiting" && !written.has(photo.entry));
  for (const photo of photos) await sendPhoto(app, state, photo);
  return lines.length + photos.length > 0;
}

async function sendLines(app, state, records) {
  const body = {
    sent_at: new Date().toISOString(),
    lines: records.map(({ line, count }) => ({ ...line, count })),
  };
  const response = await ask(app.addresses.sync, {
    method: "POST",
    headers: { "Content-Type": "application/json", "X-CSRFToken": state.csrf },
    body: JSON.stringify(body),
  });
  if (!response.ok) throw new Error(`sync ${response.status}`);
  const { server_time: keptAt, answers } = await response.json();
  const byId = new Map(answers.map((answer) => [answer.id, answer]));
  for (const record of records) {
    const answer = byId.get(record.line.id);
    if (!answer || answer.state === "failed") continue;
    const stands = { kept: "kept", had: "kept", refused: "refused", "other person": "other" }[answer.state];
    await app.store.put("lines", { ...record, state: stands, problems: answer.problems, kept_at: keptAt });
  }
}

async function sendPhoto(app, state, photo) {
  const form = new FormData();
  form.append("id", photo.id);
  form.append("entry", photo.entry);
  form.append("file", new Blob([photo.bytes], { type: photo.type }), "photo");
  const response = await ask(app.addresses.photo, { method: "POST", headers: { "X-CSRFToken": state.csrf }, body: form });
  if (response.status === 422) {
    const { problems } = await response.json();
    await app.store.put("photos", { ...photo, state: "refused", problems });
    return;
  }
  if (!response.ok) throw new Error(`photo ${response.status}`);
  await app.store.remove("photos", [photo.id]);
}

// Lines that the server's data now tell of are no longer needed here.
export async function dropSent(app, drawnAt) {
  const lines = await app.store.lines();
  const old = lines.filter((record) => record.state === "kept" && record.kept_at && record.kept_at < drawnAt);
  const keepDays = new Set(["picked", "came", "left"]);
  // Crates and hours of the day stay to be shown; they are small.
  const gone = old.filter((record) => !keepDays.has(record.line.kind) || Date.parse(drawnAt) - Date.parse(record.kept_at) > 86400000);
  await app.store.remove("lines", gone.map((record) => record.count));
}
