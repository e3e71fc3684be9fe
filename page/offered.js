// What a site could get, and whether its panel takes it: asked of the bench once. Null until it answers; then(): it did.
let known = null;
let asked = false;

async function ask(then) {
  const answer = await fetch("./devices").then((got) => got.json()).catch(() => null);
  known = Array.isArray(answer) ? answer : [];
  then();
}

export function devicesOffered(then) {
  if (!asked) {
    asked = true;
    ask(then);
  }
  return known;
}
