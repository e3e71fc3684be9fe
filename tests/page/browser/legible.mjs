// Which words of a page as it stands can be read: those that are cut off, lie over others or leave their drawing are told, where one cannot
// come to the rest of them by scrolling or by a title.
export function legible(page) {
  return page.evaluate(() => {
    const clip = (style) => [style.overflowX, style.overflowY].some((one) => one === "hidden" || one === "clip");
    const scrolls = (style) => [style.overflowX, style.overflowY].some((one) => one === "auto" || one === "scroll");
    const styles = new Map();
    const styleOf = (one) => { if (!styles.has(one)) styles.set(one, getComputedStyle(one)); return styles.get(one); };
    const cut = (text) => text.replaceAll(/\s+/g, " ").trim().slice(0, 50);
    const unread = [];
    const boxes = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const range = document.createRange();
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (node.textContent.trim() === "" || parent.closest("script, style, option, .read, .skip, [hidden], title, svg")) continue;
      if (!parent.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
      range.selectNodeContents(node);
      const rects = [...range.getClientRects()].filter((one) => one.width > 0.5 && one.height > 0.5);
      let [titled, floats] = [false, false];
      const rolled = [];
      let clipper = null;
      for (let one = parent; one && one !== document.documentElement; one = one.parentElement) {
        const style = styleOf(one);
        if (style.clipPath !== "none") floats = true;
        titled ||= one.title !== "" || one.ariaLabel === node.textContent.trim();
        floats ||= ["sticky", "fixed"].includes(style.position);
        if (scrolls(style)) rolled.push(one);
        else if (rolled.length === 0 && !clipper && clip(style)) clipper = one;
      }
      if (floats) continue;
      const within = clipper?.getBoundingClientRect();
      if (within && !titled && rects.some((one) => one.right > within.right + 1.5 || one.bottom > within.bottom + 4 || one.left < within.left - 1.5 || one.top < within.top - 4)) unread.push(`cut off: “${cut(node.textContent)}”`);
      if (rolled.length === 0 && !clipper && rects.some((one) => one.right > innerWidth + 1 || one.left < -1)) unread.push(`past the edge: “${cut(node.textContent)}”`);
      const seen = rolled.map((one) => one.getBoundingClientRect());
      for (const { left, top, right, bottom } of rects) {
        const air = (bottom - top) * 0.2;
        if (seen.every((box) => top >= box.top && bottom <= box.bottom && left >= box.left && right <= box.right)) boxes.push({ left, top: top + air, right, bottom: bottom - air, one: parent, says: cut(node.textContent) });
      }
    }
    for (const one of document.querySelectorAll("select")) {
      if (!one.checkVisibility() || one.selectedIndex < 0) continue;
      const style = styleOf(one);
      const pen = document.createElement("canvas").getContext("2d");
      pen.font = style.font;
      const room = one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
      if (pen.measureText(one.selectedOptions[0].textContent.trim()).width > room + 2 && one.title === "") unread.push(`cut off, of a choice: “${cut(one.selectedOptions[0].textContent)}”`);
    }
    for (const svg of document.querySelectorAll("svg.lanes, svg.plan:not(.loupe, .sketch)")) {
      if (!svg.checkVisibility()) continue;
      const sheet = svg.getBoundingClientRect();
      const own = [...svg.querySelectorAll("text:not(.d-mark, .d-mark-light)")].filter((one) => one.checkVisibility() && one.textContent.trim() !== "").map((one) => {
        const { left, top, right, bottom } = one.getBoundingClientRect();
        const air = (bottom - top) * 0.22;
        return { left, top: top + air, right, bottom: bottom - air, one, says: cut(one.textContent) };
      });
      unread.push(...own.filter((box) => box.left < sheet.left - 1 || box.right > sheet.right + 1 || box.top < sheet.top - 1 || box.bottom > sheet.bottom + 1).map((box) => `outside its drawing: “${box.says}”`));
      const rolled = [];
      for (let one = svg; one; one = one.parentElement) if (scrolls(styleOf(one))) rolled.push(one.getBoundingClientRect());
      boxes.push(...own.filter((box) => rolled.every((seen) => box.top >= seen.top && box.bottom <= seen.bottom)));
    }
    boxes.sort((a, b) => a.top - b.top);
    boxes.forEach((box, i) => {
      for (let k = i + 1; k < boxes.length && boxes[k].top < box.bottom - 1; k += 1) {
        const other = boxes[k];
        const over = Math.min(box.right, other.right) - Math.max(box.left, other.left) > 2 && Math.min(box.bottom, other.bottom) - other.top > 1;
        if (over && box.one !== other.one) unread.push(`“${box.says}” lies over “${other.says}”`);
      }
    });
    return { count: boxes.length, unread: [...new Set(unread)] };
  });
}
