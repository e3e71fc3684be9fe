// The page's line to the bench while somebody walks: what the bench tells as it comes, and what is done here. A connection
// that is cut, also without a word, is noticed and made anew; what cannot be sent meanwhile is noted with its time and sent later,
// in its order.
import { keepNoted, readNoted } from "./noted.js";
import { noted } from "./ticking.js";

const SILENT_MS = 6000; // the bench says something every two seconds
const AGAIN_MS = 1500;
const AT_ONCE = new Set(["now", "begin"]); // judged by its second, or by nothing: these are not noted

// place(): which bench and site this is, to keep apart what is noted; take(told): the bench said this; changed(): the line, or
// what is noted, is otherwise now.
export function makeLink({ place, take, changed }) {
  const link = { live: false, since: null, refused: "" };
  let source = null;
  let timer = null;
  let heard = 0;
  let ahead = 0; // of the bench's clock before this machine's, in milliseconds
  let sending = false;
  let queue = null;
  link.queue = () => (queue ??= readNoted(place()));
  const setQueue = (list) => {
    queue = list;
    keepNoted(place(), list);
  };

  function hear(told) {
    heard = Date.now();
    ahead = told.now_ms ? told.now_ms - heard : ahead;
    if (!link.live) {
      link.live = true;
      send();
      changed();
    }
    if (!told.beat) take(told);
  }

  function lost() {
    if (link.live || link.since === null) link.since = heard || Date.now();
    link.live = false;
    changed();
  }

  function connect() {
    source?.close();
    source = new EventSource("./acceptance");
    source.onmessage = (event) => hear(JSON.parse(event.data));
    source.onerror = lost;
    heard = Date.now();
  }

  function watch() {
    if (Date.now() - heard > SILENT_MS) {
      lost();
      connect();
    } else if (source.readyState === EventSource.CLOSED) connect();
  }

  link.open = () => {
    if (source) return;
    connect();
    timer = setInterval(watch, AGAIN_MS);
  };

  link.close = () => {
    if (!source) return;
    clearInterval(timer);
    source.close();
    source = null;
    Object.assign(link, { live: false, since: null });
  };

  // Rejects where the bench does not answer; what it refuses is an answer.
  link.post = async (path, value) => {
    const answer = await fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(value), signal: AbortSignal.timeout(SILENT_MS) });
    if (answer.status !== 200 && answer.status !== 422) throw new Error(`answered ${answer.status}`);
    return answer.json();
  };

  async function send() {
    if (sending) return;
    sending = true;
    try {
      while (link.queue().length > 0) {
        const answer = await link.post("./acceptance", link.queue()[0]);
        setQueue(link.queue().slice(1));
        if (answer.result !== "done") link.refused = answer.what;
      }
    } catch {
      /* it waits for the next connection */
    } finally {
      sending = false;
      changed();
    }
  }

  function keep(act, at_ms) {
    if (AT_ONCE.has(act.act)) link.refused = "The bench does not answer: this counts only while it is connected.";
    else setQueue([...link.queue(), noted(act, at_ms + ahead)]);
  }

  // Somebody did this. Where the bench refuses it, link.refused says why.
  link.act = async (act) => {
    const at_ms = Date.now();
    link.refused = "";
    if (!link.live || link.queue().length > 0) {
      keep(act, at_ms);
      if (link.live) send();
      return;
    }
    try {
      const answer = await link.post("./acceptance", act);
      if (answer.result !== "done") link.refused = answer.what;
    } catch {
      keep(act, at_ms);
      lost();
    }
  };
  return link;
}
