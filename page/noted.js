// What was noted while the bench could not be reached, kept in this browser until it has been sent: a tablet that is reloaded
// in the cellar loses none of it. The only thing that the page keeps here; gone once the bench has it.
const name = (place) => `lintel-noted ${place}`;

// place: which bench and site it is for. A browser that keeps nothing gives an empty list.
export function readNoted(place) {
  try {
    const list = JSON.parse(localStorage.getItem(name(place)));
    return Array.isArray(list) ? list : [];
  } catch {
    return [];
  }
}

// False where the browser keeps nothing: it is then in this page alone, as long as it stays open.
export function keepNoted(place, list) {
  try {
    if (list.length === 0) localStorage.removeItem(name(place));
    else localStorage.setItem(name(place), JSON.stringify(list));
    return true;
  } catch {
    return false;
  }
}
