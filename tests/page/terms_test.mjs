// Terms are explained from docs/words.md, and each that the page offers stands there.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { TERMS, wordsOf } from "../../page/terms.js";

const words = wordsOf(readFileSync(new URL("../../docs/words.md", import.meta.url), "utf8"));

test("both word sets and every word of a row lead to what it means", () => {
  assert.match(words.get("perimeter"), /alarm at once/);
  assert.equal(words.get("mains"), words.get("ac"));
  assert.equal(words.get("entry delay"), words.get("exit delay"));
  assert.equal(words.get("fault"), words.get("note"));
  assert.ok(!words.has("uk") && !words.has("word") && !words.has("---") && !words.has("the same"));
  assert.ok(words.size > 60, String(words.size));
});

test("every term that the page offers is explained, in one short sentence", () => {
  const folder = new URL("../../page/", import.meta.url);
  const offered = readdirSync(folder).filter((name) => name.endsWith(".js")).flatMap((name) => {
    const source = readFileSync(new URL(name, folder), "utf8");
    return [...source.matchAll(/term(?:\("([^"]+)"(?:, "([^"]+)")?\)|: "([^"]+)")/g)].map((match) => match[3] ?? match[2] ?? match[1]);
  });
  assert.ok(offered.length >= 7, offered.join());
  const all = [...TERMS, ...offered];
  assert.deepEqual(all.filter((word) => !words.has(word)), []);
  assert.deepEqual(all.filter((word) => words.get(word).length > 200), []);
});
