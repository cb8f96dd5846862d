// On paper the whole site is drawn to one of the usual scales, if the page is printed at 100 %.

import { boxOf } from "./geometry.js";
import { svg } from "./marks.js";

const PAGES_MM = { a4: [277, 150], letter: [259, 156] };
const PX_PER_MM = 96 / 25.4;

export function printing(editor) {
  let before = null;
  let plants = null;
  const scaleWords = editor.find("print-scale");
  const begin = () => {
    if (before) return;
    const { view, site, sheet } = editor;
    before = { scale: view.scale, west: view.west, north: view.north };
    const box = boxOf(site.things) ?? [-5, -5, 15, 15];
    const room = PAGES_MM[editor.paper] ?? PAGES_MM.a4;
    const margin_mm = 8;
    const fits = (ratio) => [box[2] - box[0], box[3] - box[1]].every((length, k) => (length * 1000) / ratio + 2 * margin_mm <= room[k]);
    const [ratio, words] = editor.scales.find(([each]) => fits(each)) ?? editor.scales[editor.scales.length - 1];
    sheet.style.width = `${room[0]}mm`;
    sheet.style.height = `${room[1]}mm`;
    view.width = room[0] * PX_PER_MM;
    view.height = room[1] * PX_PER_MM;
    view.scale = (1000 / ratio) * PX_PER_MM;
    view.west = (box[0] + box[2]) / 2 - view.width / 2 / view.scale;
    view.north = (box[1] + box[3]) / 2 + view.height / 2 / view.scale;
    scaleWords.textContent = editor.t("print_scale", { scale: words });
    editor.board.all();
    // Canvas is neither sharp nor clear on paper.
    plants = editor.board.ground.appendChild(svg("path", { class: "hair", d: editor.plants.asPath(site.beds, view) }));
  };
  const end = () => {
    if (!before) return;
    const { view, sheet } = editor;
    sheet.style.width = sheet.style.height = "";
    Object.assign(view, before);
    before = null;
    plants?.remove();
    view.width = sheet.clientWidth;
    view.height = sheet.clientHeight;
    editor.board.all();
  };
  window.addEventListener("beforeprint", begin);
  window.addEventListener("afterprint", end);
}
