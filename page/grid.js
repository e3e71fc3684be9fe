// A table as one goes through it by keys: one tab stop, arrows from cell to cell, Enter edits or goes down, Esc takes back
// what was typed. A cell's control is what has the focus.

const CONTROL = "select, button, input";
let last = null; // the data-key of the control that had the focus

function rowsOf(table) {
  return [...table.querySelectorAll("tr[data-zone]")];
}

function controlIn(cell) {
  return [...(cell?.querySelectorAll(CONTROL) ?? [])].find((one) => one.offsetParent !== null && !one.disabled) ?? null;
}

function open(control) {
  if (control.matches("select")) try { control.showPicker(); } catch { control.focus(); }
  else if (control.matches("input")) control.select();
}

// Leaving a field may write it, and the table is then made anew: the control that was meant is found again by its key.
function stand(control) {
  const key = control.dataset.key;
  control.focus();
  const there = control.isConnected ? control : document.querySelector(`[data-key="${CSS.escape(key)}"]`);
  if (there !== control) there?.focus();
  if (there?.matches("input")) there.select();
}

// From a cell by rows and columns to the next that holds a control.
function go(table, cell, down, right) {
  const rows = rowsOf(table);
  let row = rows.indexOf(cell.parentElement);
  let column = cell.cellIndex;
  for (;;) {
    row += down;
    column += right;
    const next = rows[row]?.cells[column];
    if (!next) return false;
    const control = controlIn(next);
    if (control) {
      stand(control);
      return true;
    }
  }
}

function atEdge(control, right) {
  const whole = control.selectionStart === 0 && control.selectionEnd === control.value.length;
  return whole || (control.selectionStart === control.selectionEnd && control.selectionStart === (right > 0 ? control.value.length : 0));
}

const STEPS = { ArrowDown: [1, 0], ArrowUp: [-1, 0], ArrowRight: [0, 1], ArrowLeft: [0, -1] };

export function gridKeys(event) {
  const control = event.target.closest(CONTROL);
  const cell = control?.closest("tr[data-zone] > *");
  if (!cell || event.altKey || event.ctrlKey || event.metaKey) return;
  const table = event.currentTarget;
  const typing = control.matches("input");
  const step = STEPS[event.key];
  if (step && !(typing && step[1] !== 0 && !atEdge(control, step[1]))) go(table, cell, ...step);
  else if (event.key === "Enter" && typing) { if (!go(table, cell, event.shiftKey ? -1 : 1, 0)) control.blur(); }
  else if ((event.key === "Enter" && control.matches("select")) || event.key === "F2") open(control);
  else if (event.key === "Escape" && typing) { control.value = control.defaultValue; control.dispatchEvent(new Event("input")); control.select(); }
  else return;
  event.preventDefault();
}

// One tab stop: the control that was last, or the first. To be called once the table is in the page.
export function oneStop(table) {
  const controls = [...table.querySelectorAll("tr[data-zone] :is(select, button, input)")];
  const stop = controls.find((one) => one.dataset.key === last) ?? controls[0];
  for (const one of controls) {
    const index = one === stop ? 0 : -1;
    if (one.tabIndex !== index || !one.hasAttribute("tabindex")) one.tabIndex = index;
  }
}

export function remember(event) {
  const control = event.target.closest(CONTROL);
  if (!control?.closest("tr[data-zone]") || control.dataset.key === last) return;
  last = control.dataset.key;
  oneStop(event.currentTarget);
}
