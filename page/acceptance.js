// Acceptance: the tests in walking order, one at a time and large, for one hand, with gloves, in a dark cellar. Signals tick
// them off as they come; what only a person can say is ticked by hand, with a name. Without a connection it says so, notes
// what is pressed with its time, and catches up by itself.
import { courseOf } from "./course.js";
import { h, put } from "./dom.js";
import { makeLink } from "./link.js";
import { ring } from "./rings.js";
import { answerOf, caution, clock, expects, heardBetween, instead, isDone, nextOf, standing, signalsOf, tickWords, understoodWords, verdict, withNoted } from "./ticking.js";
import { sign } from "./tones.js";

const SHOWN_MS = 1500; // a test that was ticked off stays so long before the next one
const BACK_MS = 8000; // so long what was ticked off by hand can be taken back where one stands; in the list always
const IGNORE_MS = 400; // presses within so long after a row changed under the thumb

const STAYS = new Set(["on test", "station", "off test"]); // what begins and ends the list is not put off
const HOW = ["read back by the operator", "seen on the panel", "seen and heard here"];

// place(): which site this is, to keep apart what is noted; again(): shows anew; body: where it stands.
export function makeAcceptance({ place, again }) {
  const state = {
    list: null, problem: "", shown: null, chosen: null, last: null, lastAt: 0, asking: null, missing: "", anew: false, pasting: false, pasted: "", understood: null,
    by: "", named: false, until: "", how: 0, left: false, night: false, sound: false, changed: 0, here: false,
  };
  let turning = null;
  const link = makeLink({ place, take, changed: () => again() });
  const queue = link.queue;
  document.addEventListener("visibilitychange", () => { if (document.hidden && !state.here) link.close(); });

  // The test that was shown and is ticked off now stays for a moment; then the next one.
  function turn(list) {
    const next = nextOf(list)?.name ?? null;
    const shown = list.tests.find((test) => test.name === state.shown);
    if (shown && shown.name !== next && (isDone(shown) || ["waits", "said no"].includes(shown.state)) && state.last !== shown.name) {
      Object.assign(state, { last: shown.name, lastAt: Date.now() });
      setTimeout(again, BACK_MS);
    }
    if (state.shown === null || !shown) state.shown = next;
    if (state.shown === next || turning) return;
    turning = setTimeout(() => {
      turning = null;
      state.shown = nextOf(withNoted(state.list, queue()))?.name ?? null;
      state.asking = null;
      state.changed = Date.now();
      again();
    }, SHOWN_MS);
  }

  function take(told) {
    state.problem = told.problem ?? "";
    if (told.tests) {
      if (state.sound && state.here) sign(heardBetween(state.list, told));
      state.list = told;
      turn(withNoted(told, queue()));
    }
    again();
  }

  async function act(what, test = "", by = "") {
    await link.act({ act: what, test, by });
    if (what === "begin") Object.assign(state, { shown: null, last: null, anew: false });
    turn(list());
    again();
  }

  const set = (change) => { Object.assign(state, change); again(); };
  // A press counts where the thing under the thumb has been there for a moment.
  const pressed = (run) => () => { if (Date.now() - state.changed > IGNORE_MS) run(); };
  const big = (key, words, run, attributes = {}) => h("button", { type: "button", class: "big", "data-key": key, onclick: pressed(run), ...attributes }, words);

  function tick(test, deed = "hand") {
    const by = state.by.trim();
    if (by === "") return set({ missing: "A tick by hand needs a name: who saw it." });
    Object.assign(state, { named: true, changed: Date.now() });
    if (test.answers.length > 0) {
      Object.assign(state, { chosen: null, missing: "", last: test.name, lastAt: Date.now() });
      setTimeout(again, BACK_MS);
      return act(deed, test.name, by);
    }
    const said = test.name === "on test" ? `${by}, on test${state.until ? ` until ${state.until}` : ""}` : test.name === "off test" ? `${by}, off test` : `${by}, ${HOW[state.how]}`;
    Object.assign(state, { asking: null, chosen: null, missing: "" });
    return act("hand", test.name, said);
  }

  function form(test) {
    const account = test.name === "on test" || test.name === "off test";
    return h("div", { class: "by", role: "group", "aria-label": `tick ${test.name} off by hand` },
      h("label", {}, account ? "Who at the station said so, or who called" : "Who saw it", h("input", { type: "text", "data-key": "by", maxlength: 80, value: state.by, oninput: (event) => { state.by = event.target.value; } })),
      test.name === "on test" ? h("label", {}, "On test until", h("input", { type: "time", "data-key": "until", value: state.until, oninput: (event) => { state.until = event.target.value; } })) : null,
      account ? null : h("div", { class: "how", role: "radiogroup", "aria-label": "how" }, HOW.map((words, i) => h("button", { type: "button", role: "radio", class: "big", "aria-checked": String(state.how === i), "data-key": `how-${i}`, onclick: () => set({ how: i }) }, words))));
  }

  // A question: two answers, each as wide as the hand's reach, and no third thing between them.
  function asked(test) {
    return [state.named ? h("p", { class: "where" }, `answers: ${state.by}`) : h("div", { class: "by" }, h("label", {}, "Who listens", h("input", { type: "text", "data-key": "by", maxlength: 80, value: state.by, oninput: (event) => { state.by = event.target.value; } }))),
      h("div", { class: "thumb answers" }, test.answers.map((words, i) => big(`answer-${i}`, capital(words), () => tick(test, i === 0 ? "hand" : "no"))),
        test.name === state.chosen && test.name !== state.shown ? big("next", "Back to the next one", () => set({ chosen: null })) : big("later", "Later", () => act("later", test.name)))];
  }

  function thumb(test) {
    if (test.answers.length > 0) return asked(test);
    const aside = test.name === state.chosen && test.name !== state.shown;
    const asking = test.by_hand || state.asking === test.name;
    if (asking) {
      return [form(test), h("div", { class: "thumb" }, big("tick", "Tick off by hand", () => tick(test)), test.by_hand ? null : big("not", "Not by hand", () => set({ asking: null })), STAYS.has(test.name) ? null : big("later", "Later", () => act("later", test.name)))];
    }
    if (aside) return h("div", { class: "thumb" }, big("hand", "By hand", () => set({ asking: test.name })), big("next", "Back to the next one", () => set({ chosen: null })));
    const other = instead(list(), test).length > 0;
    return h("div", { class: "thumb" }, big("now", other ? "Try again, now" : "I do it now", () => act("now")), big("hand", "By hand", () => set({ asking: test.name })), big("later", other ? "Note it, go on" : "Later", () => act("later", test.name)));
  }

  const list = () => withNoted(state.list, queue());

  // The test that stands there large: the one whose row was pressed, as long as it is open, else the one that is next.
  function standingAt(now) {
    const named = (name) => now.tests.find((one) => one.name === name);
    const chosen = named(state.chosen);
    return chosen && !isDone(chosen) ? chosen : named(state.shown) ?? nextOf(now);
  }

  function present(now, view) {
    const test = standingAt(now);
    if (!test) return h("div", { class: "test" }, h("p", { class: "do" }, verdict(now, queue()).says));
    const came = isDone(test);
    const others = instead(now, test);
    const waits = now.tests.filter((one) => one.state === "waits");
    const care = caution(test);
    return h("div", { class: "test" },
      care ? h("p", { class: "caution" }, care) : null,
      h("p", { class: "do" }, sentence(test.says)),
      came ? null : others.slice(-2).map((one) => h("p", { class: "wrong", "data-id": one.id }, `${clock(one.received_ms)} ${sentence(one.says)}`)),
      h("div", { class: "spot" }, h("div", {}, h("p", { class: "where" }, [view.where(test), test.zone ? `zone ${test.zone}` : "", test.name].filter((one, i, all) => one && all.indexOf(one) === i).join(" · ")),
      came ? h("p", { class: "came" }, ring("holds", true), tickWords(test)) : test.state === "said no" ? h("p", { class: "came wrong" }, ring("fault", true), tickWords(test)) : test.by_hand && !test.zone ? null : h("p", { class: "where" }, `expects: ${expects(test)}`)), view.sketch(test)),
      test.began_ms && !came ? h("p", { class: "where" }, `done at ${clock(test.began_ms)}`) : null,
      waits.map((one) => h("p", { class: "wrong" }, one === test ? "No end yet: is it closed again?" : `${one.name}${one.device ? ` (${one.device})` : ""}: no end yet: is it closed again?`)));
  }

  function row(test, now) {
    const others = instead(now, test);
    const no = test.state === "said no";
    const mark = isDone(test) ? "holds" : no ? "fault" : others.length > 0 && test.state !== "if wanted" ? "fault" : "";
    return h("li", { class: test.state === "next" ? "next" : null, "data-test": test.name, "data-state": test.state },
      h("span", { class: "mark" }, mark ? ring(mark, true) : null),
      h("button", { type: "button", class: "about", "aria-pressed": String(state.chosen === test.name), "data-key": `course-${test.name}`, onclick: () => set({ chosen: state.chosen === test.name ? null : test.name }) },
        h("b", {}, test.device ? `${test.name} · ${test.device}` : test.name), h("span", { class: "soft" }, ` ${isDone(test) || no ? tickWords(test) : test.says}`),
        test.kept ? h("span", { class: "soft" }, " · noted here, not sent yet") : null,
        isDone(test) ? null : others.slice(-1).map((one) => h("span", { class: "wrong" }, `${clock(one.received_ms)} ${sentence(one.says)}`))),
      h("span", { class: "state soft" }, test.state === "waits" ? "no end yet" : test.state === "by hand" || no ? answerOf(test) ?? "by hand" : test.state === "done" ? "seen" : test.state),
      test.state === "by hand" || no ? big(`back-${test.name}`, "Take back", () => act("back", test.name), { "aria-label": `take back: ${test.name}` }) : null);
  }

  // The next one first, what is open in its order, what may be done besides, then what is ticked off.
  function rows(now) {
    const rank = (test) => (test.state === "next" ? 0 : ["waits", "said no"].includes(test.state) ? 1 : isDone(test) ? 4 : test.required ? 2 : 3);
    return [...now.tests].sort((a, b) => rank(a) - rank(b));
  }

  function foot() {
    if (!state.anew) return h("button", { type: "button", class: "link", "data-key": "anew", onclick: () => set({ anew: true }) }, "Begin anew");
    return h("p", { class: "wrong" }, "This forgets every tick and what came so far; the archive keeps the signals. ", h("button", { type: "button", class: "big", "data-key": "begin", onclick: () => act("begin") }, "Begin anew"), " ", h("button", { type: "button", class: "big", "data-key": "leave", onclick: () => set({ anew: false }) }, "Leave it"));
  }

  // A station's list: first what is understood of it, then, with a name, taken.
  async function sendList(by) {
    state.missing = "";
    try {
      const answer = await link.post("./pasted", { text: state.pasted, by });
      if (answer.lines) state.understood = { ...answer, stored: by !== "" };
      else state.missing = answer.what;
    } catch {
      state.missing = "The bench does not answer: the list stays here until it does.";
    }
    if (by && state.understood?.stored) state.pasted = "";
    again();
  }

  function pasting() {
    if (!state.pasting) return h("div", { class: "thumb still" }, big("paste", "Paste the station's list", () => set({ pasting: true })));
    const { understood } = state;
    const may = understood && !understood.stored && understood.taken > 0;
    return h("div", { class: "pasting" },
      h("label", {}, "What the station received, as it prints it: a line each, with time, event and zone; a heading helps",
        h("textarea", { rows: 6, spellcheck: "false", "data-key": "pasted", oninput: (event) => { Object.assign(state, { pasted: event.target.value, understood: null }); } }, state.pasted)),
      understood ? h("p", { role: "status" }, understoodWords(understood)) : null,
      understood ? h("ul", { class: "understood" }, understood.lines.map((line) => h("li", { class: line.why ? "soft" : null }, h("span", {}, line.why ? "not taken" : clock(line.at_ms)), h("span", {}, line.says ?? line.why), h("span", { class: "soft" }, line.raw)))) : null,
      may ? h("div", { class: "by" }, h("label", {}, "Who had it from the station", h("input", { type: "text", "data-key": "by-list", maxlength: 50, value: state.by, oninput: (event) => { state.by = event.target.value; } }))) : null,
      h("div", { class: "thumb still" },
        may ? big("take", "Take these", () => (state.by.trim() ? sendList(state.by.trim()) : set({ missing: "A pasted list needs a name: who had it from the station." }))) : big("understand", "Show what is understood", () => sendList("")),
        big("away", "Put it away", () => set({ pasting: false, understood: null }))));
  }

  // Read out as it changes; the rest is made anew each time, which no reader would hear.
  function announce(body) {
    state.said ??= body.parentElement.appendChild(h("p", { class: "read", role: "status" }));
    const test = state.list?.tests.find((one) => one.name === state.shown);
    const words = !state.list || !test ? "" : [link.live ? "" : "not connected", `${test.says}`, tickWords(test), instead(state.list, test).at(-1)?.says].filter(Boolean).join(". ");
    if (state.said.textContent !== words) state.said.textContent = words;
  }

  function switches(which) {
    return h("div", { class: "switches" },
      which.map(([key, words]) => h("button", { type: "button", class: "big", "aria-pressed": String(state[key]), "data-key": `switch-${key}`, onclick: () => set({ [key]: !state[key] }) }, words)));
  }

  return {
    enter() {
      state.here = true;
      link.open();
    },
    // keyed: something was keyed in. Elsewhere than here it is followed from then on, as long as the page is seen: each stream is one of
    // the few connections that a browser has for all its pages.
    leave(keyed) {
      state.here = false;
      const known = state.list !== null || state.problem !== "";
      if (document.hidden || (known && !state.list?.begun && !(state.list && keyed))) link.close();
      else link.open();
      document.body.classList.remove("night");
    },
    // What of its signals has been seen; null: nobody knows, or there is no archive.
    signals: () => (state.list && link.live ? signalsOf(list()) : null),
    begun: () => state.list?.begun ?? null,
    // The test whose course the ribbon shows, or null: what was chosen, else what came last.
    course() {
      if (!state.list?.begun) return null;
      const now = list();
      const named = (name) => now.tests.find((one) => one.name === name) ?? null;
      const shown = named(state.shown);
      const came = (test) => test && (test.signals.some((signal) => signal.received_ms) || instead(now, test).length > 0);
      return courseOf(now, named(state.chosen) ?? (came(shown) || !came(named(state.last)) ? shown : named(state.last)));
    },
    // view: where(test): the room, in words; sketch(test): a small drawing of it, or null; awake: what is to be said of the screen.
    show(body, view) {
      document.body.classList.toggle("night", state.night);
      announce(body);
      if (!state.list) return put(body, h("p", { class: "caution", role: state.problem ? "alert" : "status" }, state.problem || (link.since === null ? "Reading the list." : "Not connected: the bench does not answer.")));
      const now = list();
      const judged = verdict(now, queue());
      if (!now.begun) {
        return put(body, h("div", { class: "walk" }, h("p", { class: "caution" }, "Put the account on test with the monitoring station before any test, and take it off after. While the panel reports here, the station hears nothing."),
          h("p", { class: "do" }, `${now.tests.length} tests, account ${now.account}. What the panel sent before counts for nothing.`), h("div", { class: "thumb" }, big("begin", "Begin", () => act("begin")))));
      }
      const last = now.tests.find((one) => one.name === state.last);
      const test = standingAt(now);
      return put(body, h("div", { class: `walk ${state.left ? "left" : ""}` },
        h("div", { class: `band ${link.live ? "" : "cut"}` }, h("p", {}, standing(now, link, queue())), switches([["night", "night"]])),
        view.awake ? h("p", { class: "caution soft" }, view.awake) : null,
        state.problem ? h("p", { class: "caution wrong", role: "alert" }, state.problem) : null,
        [link.refused, state.missing].filter(Boolean).map((words) => h("p", { class: "caution wrong", role: "alert" }, words)),
        last && (last !== test || last.answers.length > 0) ? h("p", { class: last.answers.length > 0 ? "before answered soft" : "before soft" }, `before: ${last.name} · ${tickWords(last) || (last.answers.length > 0 ? "taken back" : "its end is still to come")}`, ["by hand", "said no"].includes(last.state) && Date.now() - state.lastAt < BACK_MS ? big("back", "Take back", () => { state.last = null; act("back", last.name); }) : null) : null,
        present(now, view),
        test && !isDone(test) && (test.state !== "said no" || test.name === state.chosen) ? thumb(test) : null,
        test && h("p", { class: judged.accepted ? "verdict" : "verdict open" }, judged.accepted ? ring("holds", true) : null, judged.says),
        h("h2", {}, "All tests"),
        h("ol", { class: "tests" }, rows(now).map((one) => row(one, now))),
        pasting(),
        switches([["left", "for the left hand"], ["sound", "sound"]]),
        foot()));
    },
  };
}

function capital(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function sentence(words) {
  return capital(words) + (/[.?!]$/.test(words) ? "" : ".");
}
