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

// Puts nodes in place of what was there. Those that are there already stay where they are, so that nothing of them is laid out anew.
function replace(parent, nodes) {
  const kept = new Set(nodes.filter((node) => node.parentNode === parent));
  if (kept.size === 0) {
    parent.replaceChildren(...nodes);
    return;
  }
  for (const former of [...parent.childNodes]) if (!kept.has(former)) former.remove();
  let at = parent.firstChild;
  for (const node of nodes) {
    if (node === at) at = at.nextSibling;
    else parent.insertBefore(node, at);
  }
}

// What was made of the same values (objects by their identity) is not made again, under each name.
export function makeKeeper() {
  const made = new Map();
  const keep = (name, values, make) => {
    const former = made.get(name);
    if (former && former.values.length === values.length && former.values.every((value, i) => value === values[i])) return former.what;
    const what = make();
    made.set(name, { values, what });
    return what;
  };
  keep.forget = (name) => made.delete(name);
  return keep;
}

// Puts the children in place of what was there; the focus stays on the element of the same data-key, and where in its
// text one was writing. Where it is gone, the focus goes to what its data-home named, or to the part that it was in: never nowhere.
export function put(parent, ...children) {
  const focused = parent.contains(document.activeElement) ? document.activeElement : null;
  const key = focused?.dataset.key;
  const home = focused?.closest("[data-home]")?.dataset.home;
  const range = focused?.matches("input[type=text]") ? [focused.selectionStart, focused.selectionEnd] : null;
  replace(parent, children.flat(Infinity).filter((child) => child).map((child) => (child instanceof Node ? child : document.createTextNode(String(child)))));
  if (focused && focused === document.activeElement) return;
  const keyed = (name) => (name ? parent.querySelector(`[data-key="${CSS.escape(name)}"]:not(:disabled)`) : null);
  const again = keyed(key);
  if (focused) (again ?? keyed(home) ?? parent.closest("[tabindex]"))?.focus({ preventScroll: !again });
  if (range) again?.setSelectionRange?.(...range);
}
