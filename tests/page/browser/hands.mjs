// How somebody works the page: with a mouse, with a finger, or with keys alone. Each hand presses and types, counts its actions (one
// press, one drag, or one field typed and left) and notes in `wrong` what the page makes of it: a press that loses the place where
// one was, an event that this hand does not have, what is too small for a finger.

const TARGET_PX = 44; // of what a finger presses, but of words within a sentence; source: page-spec 7, WCAG 2.2, 2.5.5

function hand(page, press) {
  const own = { actions: 0, keys: 0, farthest: 0, far: "", wrong: [] };
  const look = async (what) => {
    const lost = await page.evaluate(() => document.activeElement === null || document.activeElement === document.body).catch(() => false);
    if (lost) own.wrong.push(`the place is lost after: ${what}`);
  };
  const name = (target) => target.evaluate((one) => (one.getAttribute("aria-label") ?? one.innerText ?? "").trim().slice(0, 60) || one.outerHTML.slice(0, 60));
  return Object.assign(own, {
    look,
    press: async (target) => {
      const what = await name(target);
      own.actions += 1;
      await press(target, own, what);
      return what;
    },
    // enter: how the field is left.
    type: async (target, text, leave = null) => {
      own.actions += 1;
      await own.fill(target, text);
      if (leave) await page.keyboard.press(leave);
      await look(`typed ${text}`);
    },
    fill: (target, text) => target.fill(text),
    // What came of it is on the page: the place is still known.
    settled: (what) => look(what),
  });
}

// What comes of the pointers and keys of the page, from its first moment.
export async function listened(context) {
  await context.addInitScript(() => {
    window.had = {};
    for (const type of ["pointerdown", "pointermove", "mousedown", "mousemove", "touchstart", "wheel", "keydown"]) {
      window.addEventListener(type, (event) => { const name = event.pointerType ? `${type} ${event.pointerType}` : type; window.had[name] = (window.had[name] ?? 0) + 1; }, true);
    }
  });
}

export async function had(page, wanted) {
  const all = await page.evaluate(() => Object.keys(window.had));
  return all.filter((name) => !wanted(name)).map((name) => `an event that this hand has not: ${name}`);
}

export function mouse(page) {
  return Object.assign(hand(page, (target) => target.click()), { allowed: () => true });
}

export function finger(page) {
  const made = hand(page, async (target, own, what) => {
    await target.scrollIntoViewIfNeeded();
    const small = await target.evaluate((one, least) => {
      const box = (one.matches("input[type=radio], input[type=checkbox]") ? one.closest("label") ?? one : one).getBoundingClientRect();
      return getComputedStyle(one).display !== "inline" && (box.height < least - 0.5 || box.width < least - 0.5) ? `${Math.round(box.width)} x ${Math.round(box.height)} px` : "";
    }, TARGET_PX);
    if (small) own.wrong.push(`too small for a finger: ${what}: ${small}`);
    await target.tap();
  });
  /* On the drawing, at points of the screen: pressed, or stroked from one to the other. */
  made.pressAt = async ([x, y]) => { made.actions += 1; await page.touchscreen.tap(x, y); };
  made.stroke = async (from, to) => {
    made.actions += 1;
    const client = await page.context().newCDPSession(page);
    const touch = (type, at) => client.send("Input.dispatchTouchEvent", { type, touchPoints: at.map(([x, y]) => ({ x, y })) });
    await touch("touchStart", [from]);
    for (const share of [0.1, 0.4, 0.7, 1]) await touch("touchMove", [from.map((value, i) => value + (to[i] - value) * share)]);
    await touch("touchEnd", []);
    await client.detach();
  };
  /* Written by the keyboard on the screen, which gives no keys but the one that ends a line. */
  made.fill = async (target, text) => { await target.tap(); await target.fill(""); await page.keyboard.insertText(text); };
  return Object.assign(made, { allowed: (name) => !/mouse$|wheel/.test(name) || /^mouse/.test(name) });
}

// To a control: from part to part by F6, within it by Tab, back by Shift and these; within radio buttons by arrows.
async function reach(page, target, own, what) {
  const where = (one) => (one === document.activeElement ? "there" : document.activeElement.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_PRECEDING ? "before" : "after");
  const elsewhere = (one) => { const [there, here] = [one, document.activeElement].map((at) => at.closest("#guide, #sentence, #top, main > section")); return there !== here && there?.matches("#guide, #sentence, #top, body[data-face] section"); };
  const isRadio = await target.evaluate((one) => one.matches("input[type=radio]"));
  for (let count = 0; count < 150; count += 1) {
    const at = await target.evaluate(where);
    if (at === "there") { if (count > own.farthest) Object.assign(own, { farthest: count, far: what }); return; }
    own.keys += 1;
    const among = isRadio && await target.evaluate((one) => document.activeElement.matches("input[type=radio]") && document.activeElement.name === one.name);
    const key = among ? (at === "before" ? "ArrowUp" : "ArrowDown") : await target.evaluate(elsewhere) ? "F6" : "Tab";
    await page.keyboard.press(at === "before" && !among ? `Shift+${key}` : key);
  }
  own.wrong.push(`keys do not come to: ${what}`);
}

export function keys(page) {
  const made = hand(page, async (target, own, what) => {
    await reach(page, target, own, what);
    const byRadio = await target.evaluate((one) => one.matches("input"));
    own.keys += 1;
    await page.keyboard.press(byRadio ? "Space" : "Enter");
  });
  made.fill = async (target, text) => {
    await reach(page, target, made, text);
    await page.keyboard.press("Control+a");
    await page.keyboard.type(text);
    made.keys += 1 + text.length;
  };
  return Object.assign(made, { allowed: (name) => name === "keydown" });
}
