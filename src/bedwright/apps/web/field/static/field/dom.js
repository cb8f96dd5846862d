// Small helps to build pages.

export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value") element.value = value;
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  return put(element, ...children);
}

// Like append, without a word for what is not there.
export function put(element, ...children) {
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

// A drawing that came from the server as SVG.
export function drawing(svg, className) {
  const box = h("div", { class: className });
  box.insertAdjacentHTML("afterbegin", svg);
  return box;
}

let clearing = 0;

// Says something aloud and on the screen, with one thing that can be done about it.
export function say(text, action = null) {
  const box = document.getElementById("said");
  window.clearTimeout(clearing);
  box.replaceChildren();
  put(box, h("span", {}, text), action && h("button", { class: "quiet", onclick: action.run }, action.label));
  clearing = window.setTimeout(() => box.replaceChildren(), 8000);
}

export function hush() {
  window.clearTimeout(clearing);
  document.getElementById("said").replaceChildren();
}
