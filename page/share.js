// Two values of JSON, where the later one is much like the former: the later one, with the former's objects wherever nothing in them
// differs. Whoever kept something by such an object finds it again.

function shareList(former, later) {
  let same = former.length === later.length;
  const list = later.map((one, i) => {
    const kept = share(former[i], one);
    same = same && kept === former[i];
    return kept;
  });
  return same ? former : list;
}

function shareMembers(former, later) {
  const names = Object.keys(later);
  let same = names.length === Object.keys(former).length;
  for (const name of names) {
    later[name] = share(former[name], later[name]);
    same = same && Object.hasOwn(former, name) && later[name] === former[name];
  }
  return same ? former : later;
}

// later: of nobody else; it is changed.
export function share(former, later) {
  if (former === later || typeof former !== "object" || typeof later !== "object" || former === null || later === null) return later;
  if (Array.isArray(former) !== Array.isArray(later)) return later;
  return Array.isArray(later) ? shareList(former, later) : shareMembers(former, later);
}
