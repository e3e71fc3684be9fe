// Rows from a spreadsheet as changes of the zones; the format is RFC 4180 with its examples of quoting (section 2).
import assert from "node:assert/strict";
import { test } from "node:test";
import { changesOf, readTable, twins } from "../../page/paste.js";

const offers = { behaviours: ["entry", "perimeter", "interior"] };
const file = {
  devices: [{ name: "front contact", profile: "slim-contact", serial: "0821 401" }, { name: "hall motion", profile: "quarter-motion", serial: "0822 118" }, { name: "horn", serial: "9" }],
  zones: [{ number: 1, says: ["front", "door"], device: "front contact", behaviour: "entry", delay: "front", chime: true, reports: true, supervised: true }, { number: 5, says: ["hall"], device: "hall motion", behaviour: "interior", reports: true, supervised: true }],
};
const short = (result) => result.changes.map((one) => `${one.path} ${one.value}`);

test("tab, comma and semicolon; quotes, quotes in quotes, line breaks in quotes", () => {
  assert.deepEqual(readTable("aaa,bbb,ccc\r\nzzz,yyy,xxx"), [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]);
  assert.deepEqual(readTable('"aaa","b\r\nbb","ccc"\nzzz,yyy,xxx\n'), [["aaa", "b\r\nbb", "ccc"], ["zzz", "yyy", "xxx"]]);
  assert.deepEqual(readTable('"aaa","b""bb","ccc"'), [["aaa", 'b"bb', "ccc"]]);
  assert.deepEqual(readTable("a\tb, c\n\n1\t2"), [["a", "b, c"], ["1", "2"]]);
  assert.deepEqual(readTable("a;b\n1,5;2"), [["a", "b"], ["1,5", "2"]]);
});

test("what differs of a zone that is there becomes one edit a cell", () => {
  const result = changesOf("no.,behaviour,chime,serial\n1,perimeter,yes,0821 777\n5,interior,yes,0822 118\n", file, offers);
  assert.deepEqual(result.problems, []);
  assert.deepEqual(short(result), ["zones[0].behaviour perimeter", 'devices[0].serial "0821 777"', "zones[1].chime yes"]);
  assert.equal(result.changes[0].was, "entry");
});

test("a new zone with its device; the next free places of the lists", () => {
  const result = changesOf("zone;spoken name;device;profile;behaviour;serial\n7;side door;side contact;slim-contact;entry;0821 500\n8;store;store motion;quarter-motion;interior;\n", file, offers);
  assert.deepEqual(result.problems, []);
  assert.deepEqual(short(result), ['devices[3] {name: side contact, profile: slim-contact, serial: "0821 500"}', "zones[2] {number: 7, says: [side, door], device: side contact, behaviour: entry}",
    "devices[4] {name: store motion, profile: quarter-motion}", "zones[3] {number: 8, says: [store], device: store motion, behaviour: interior}"]);
});

test("what does not fit is told with its row, and the other rows stay", () => {
  const result = changesOf("no.,behaviour,chime,colour\nsix,entry,yes,red\n1,sometimes,,\n5,interior,maybe,\n9,entry,,\n1,perimeter,,\n1,entry,,\n", file, offers);
  assert.deepEqual(result.problems.map((one) => `${one.row} ${one.what}`), ["1 the column “colour” is not used", "2 “six” is no zone number", "3 behaviour: the panel does not offer “sometimes”", "4 chime: “maybe” is neither yes nor no",
    "5 zone 9 is new and has no spoken name", "6 zone 1 stands in two rows", "7 zone 1 stands in two rows"]);
  assert.deepEqual(result.changes, []);
  assert.equal(changesOf("no.,device,behaviour,says\n9,unknown,entry,side\n", file, offers).problems.length, 1);
});

test("without headings the columns are the schedule's own", () => {
  assert.deepEqual(short(changesOf("1\tfront door\tfront contact\tperimeter", file, offers)), ["zones[0].behaviour perimeter"]);
});

test("a cell is never more than a value", () => {
  const [edit] = changesOf('no.,delay\n1,"x}, {number: 9"\n', file, offers).changes;
  assert.equal(edit.value, '"x}, {number: 9"');
});

test("the same serial on two devices is told, however it is spaced", () => {
  assert.deepEqual(twins("0821401", 1, file), [1]);
  assert.deepEqual(twins("0821 401", 0, file), []);
  assert.deepEqual(twins("9", 0, file), ["horn"]);
  assert.deepEqual(twins(" ", 0, file), []);
});
