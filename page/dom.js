// Elements from values. Texts are always text nodes: whatever a site file says, none of it becomes markup.

const SVG = "http://www.w3.org/2000/svg";

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

export function h(name, attributes, ...children) {
  return fill(document.createElement(name), attributes, children);
}

export function s(name, attributes, ...children) {
  return fill(document.createElementNS(SVG, name), attributes, children);
}

// Puts the children in place of what was there; the focus stays on the element of the same data-key, and where in its
// text one was writing. Where it is gone, the focus goes to what its data-home named, or to the part that it was in: never nowhere.
export function put(parent, ...children) {
  const focused = parent.contains(document.activeElement) ? document.activeElement : null;
  const key = focused?.dataset.key;
  const home = focused?.closest("[data-home]")?.dataset.home;
  const range = focused?.matches("input[type=text]") ? [focused.selectionStart, focused.selectionEnd] : null;
  parent.replaceChildren(...children.flat(Infinity).filter((child) => child));
  const keyed = (name) => (name ? parent.querySelector(`[data-key="${CSS.escape(name)}"]:not(:disabled)`) : null);
  const again = keyed(key);
  if (focused) (again ?? keyed(home) ?? parent.closest("[tabindex]"))?.focus({ preventScroll: !again });
  if (range) again?.setSelectionRange?.(...range);
}
