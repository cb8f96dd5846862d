// Whether ground, weeks and hours suffice: asked for when the page opens, and again while its form is filled in.

const SOON_MS = 500;
const box = document.querySelector("section.estimate[data-from]");
const form = box?.dataset.follows ? document.getElementById(box.dataset.follows) : null;
let asked = null;
let timer = 0;

async function ask() {
  asked?.abort();
  asked = new AbortController();
  const options = { headers: { "HX-Request": "true" }, signal: asked.signal };
  if (form) Object.assign(options, { method: "POST", body: new FormData(form) });
  try {
    const answer = await fetch(box.dataset.from, options);
    if (!answer.ok || answer.redirected) return;
    const open = box.querySelector("details[open]");
    box.innerHTML = await answer.text();
    if (open) box.querySelector("details")?.setAttribute("open", "");
  } catch {
    // Asked anew meanwhile, the page was left, or there is no network: what stands there stays.
  }
}

if (box) {
  ask();
  form?.addEventListener("input", () => {
    clearTimeout(timer);
    timer = setTimeout(ask, SOON_MS);
  });
}
