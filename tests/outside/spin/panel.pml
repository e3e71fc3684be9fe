/* The control panel and the people around it, second by second: the outside referee of the prover.
 *
 * Written from the design page of the panel model and the dossier's rules (section 1.3), not from the C of the core.
 * One model for every site: what differs between sites are numbers, read when the verifier starts from the file that
 * the environment variable PANEL_CONSTANTS names (constants.def lists them in their order), so that it is compiled once.
 *
 * Covered, by the headings of the page:
 *   Zones      entry, perimeter, follower (with hold), interior, each by mode; contacts and motion detectors that
 *              trip and are quiet again within the second; unset, exit running, set, entry running
 *   Setting    request refused by open contacts (entry doors by entry_open_allowed; a motion detector at rest never
 *              blocks), completion by time, exit restart, somebody left, drop to part, levels read at the end of the
 *              exit time, exit error; full and part with their own exit and entry delays; part to full
 *   Entry      off-route now and en, second entry shortens or not, expiry now and en, code; entry door during exit
 *   Alarm      siren, abort window shared by the area, report, zones that do not report, siren time
 *   Fine print every order within a second, a timer of 0 s ends inside the step that starts it, tolerance (each start
 *              draws anew: an end anywhere in from..to), follower hold, part protection during part to full
 *   Users      "have areas, modes": who asks for a mode that his code is not for is refused, and nothing is set (the page
 *              says no more; that it is a refusal, and not a code turned away, is a choice of words)
 *   Faults     the path to the station: "Path down: trouble, signals queue"; as a fault at the request it refuses or is
 *              ignored. An alarm that would leave waits until the path is back, and leaves then, whatever was keyed in
 *              meanwhile. In which order signals leave matters to no promise here, as all leave on one second
 *   Routine    steps from..to, maybe, if, when, after another's step
 * Not covered: 24-hour and life-safety kinds, day zones, swinger, pulse count, cross-zone, confirmation, bypass, forced
 *   setting, tamper, supervision, mains, jamming, fobs, hours of users, auto-set, lock-out, boundary doors, common areas,
 *   device sleep and latency, loop response, siren hold-back, more signals than the queue holds, and what follows after
 *   an inside warning or an exit error (both break a promise at once).
 *
 * Time: every activity (a panel timer, a person's next step) has from and to left. It may happen once `from` is used up
 * and must before `to` is overrun; one second passes for all of them together. With JUMP the clock moves at once to the
 * next second at which anything may happen; no instant is left out, because nothing can happen before it. */

#define AREAS_MOST 2
#define ZONES_MOST 5
#ifndef PEOPLE_MOST
#define PEOPLE_MOST 2
#endif
#define STEPS_MOST 12
#define OFF -1

/* activities */
#define EXIT 0
#define ENTRY 2
#define ABORT 4
#define SIREN 6
#define HOLD 8
#define PERSON 13
#define ACTIVITIES (PERSON + PEOPLE_MOST)

/* behaviours, modes, phases, acts, signs: as write_constants.c writes them */
#define B_OUT 0
#define B_ENTRY 1
#define B_PERIMETER 2
#define B_FOLLOWER 3
#define B_INTERIOR 4
#define M_NONE 0
#define M_FULL 1
#define M_PART 2
#define P_UNSET 0
#define P_EXIT 1
#define P_SET 2
#define A_WAIT 0
#define A_OPEN 1
#define A_CLOSE 2
#define A_PASS 3
#define A_UNSET 4
#define A_SET 5
#define A_PATH_LOST 6
#define A_PATH_BACK 7
#define S_NONE 0
#define S_SET 1
#define S_UNSET 2
#define S_EXIT_TONE 3
#define S_ENTRY_TONE 4
#define S_SIREN 5
#define S_READY 6
#define S_NOT_READY 7

/* promises, one bit each */
#define R_SIREN 1
#define R_ALARM 2
#define R_EXIT_ERROR 4
#define R_REFUSED 8
#define R_DROPPED 16
#define R_WARNING 32
#define R_TROUBLE 64

#define NUMBER(name) hidden short name;
#define NUMBERS(name, count) hidden short name[count];
#include "constants.def"
#undef NUMBER
#undef NUMBERS

c_code {
#include "read_constants.c"
}

/* What the panel and the people are, beyond their clocks. Bits by zone, door or entry delay. */
short from_left[ACTIVITIES];
short to_left[ACTIVITIES];
byte phase[AREAS_MOST];
byte mode[AREAS_MOST];
bool part_stays[AREAS_MOST];   /* part protection holds while the exit time to full runs */
bool left[AREAS_MOST];         /* somebody left */
bool restarted[AREAS_MOST];
bool sounding[AREAS_MOST];
byte alarm[AREAS_MOST];        /* 0 none, 1 abort window runs, 2 over */
bool pending[AREAS_MOST];      /* something to report when it ends */
byte routes[AREAS_MOST];       /* entry delays whose entry runs */
byte doors_open;
byte closed_since;             /* zones that closed while this exit time ran */
byte out_until_closed;         /* zones open when the siren time ended */
bool path_down;
bool queued;                   /* an alarm waits for the path */
byte next_step[PEOPLE_MOST];
byte broken;

/* scratch of one step: not part of a state */
hidden byte the_area, the_zone, each, the_delay, person, step, wanted_mode, kind, which_area;
hidden short clock, jump;
hidden byte blocked, truth;

#define HAS(bits, which) (((bits) >> (which)) & 1)
#define ADD(bits, which) bits = (bits) | (1 << (which))
#define DROP_BIT(bits, which) bits = (bits) & (255 - (1 << (which)))
#define RUNS(activity) (to_left[activity] != OFF)
#define IS(mode_, zone_) BEHAVIOUR[(mode_) * ZONES_MOST + (zone_)]
#define DELAY_OF(mode_, zone_) DELAY[(mode_) * ZONES_MOST + (zone_)]
#define ZONE_OPEN(zone_) (CONTACT[zone_] == 1 && HAS(doors_open, DOOR[zone_]))
#define FOLLOWS_ROUTE(zone_, routes_) \
	(((FOLLOWS[zone_] == 0) && ((routes_) != 0)) || ((FOLLOWS[zone_] & (routes_)) != 0))
#define BREAK(promise) broken = broken | ((promise) & (255 - EXPECTED))

inline start(activity, low, high) { from_left[activity] = low; to_left[activity] = high }
inline stop(activity) { from_left[activity] = OFF; to_left[activity] = OFF }

/* ---- course of an alarm ---- */

inline send_alarm() {
	if
	:: path_down -> queued = true
	:: else -> BREAK(R_ALARM)
	fi
}

inline abort_ends(ar) {
	stop(ABORT + ar);
	alarm[ar] = 2;
	if
	:: pending[ar] -> send_alarm()
	:: else
	fi
}

/* "trip -> siren -> report waits for the abort window: one timer per area from the first siren" */
inline raise_alarm(ar, reported) {
	BREAK(R_SIREN);
	if
	:: !sounding[ar] -> sounding[ar] = true; start(SIREN + ar, SIREN_LOW, SIREN_HIGH)
	:: else
	fi;
	pending[ar] = pending[ar] || (reported);
	if
	:: alarm[ar] == 0 ->
		alarm[ar] = 1;
		start(ABORT + ar, ABORT_LOW, ABORT_HIGH);
		if
		:: ABORT_HIGH == 0 -> abort_ends(ar)
		:: else
		fi
	:: alarm[ar] == 2 && (reported) -> send_alarm()
	:: else
	fi
}

/* "Siren time ends: a zone still open is out until it closes, then live again" */
inline siren_ends(ar) {
	stop(SIREN + ar);
	sounding[ar] = false;
	for (each : 0 .. ZONES_MOST - 1) {
		if
		:: each < ZONES && AREA[each] == ar && ZONE_OPEN(each) -> ADD(out_until_closed, each)
		:: else
		fi
	}
	each = 0
}

/* ---- entry ---- */

/* "Expiry: now: siren, abort window, report. en: warning, report 30 s later." */
inline entry_ends(ar) {
	stop(ENTRY + ar);
	routes[ar] = 0;
	if
	:: OFF_ROUTE_EN == 1 -> BREAK(R_WARNING)
	:: else -> raise_alarm(ar, REPORTS[0])
	fi
}

/* "only its own route's door or a code clears" a follower's hold */
inline clear_holds_of_route(ar, delay) {
	for (each : 0 .. ZONES_MOST - 1) {
		if
		:: each < ZONES && AREA[each] == ar && RUNS(HOLD + each) && FOLLOWS_ROUTE(each, 1 << (delay)) -> stop(HOLD + each)
		:: else
		fi
	}
	each = 0
}

/* "second one: shorten | keep first, never lengthens"; "shorten = end at min(remaining, new time)" */
inline entry_door(ar, delay) {
	ADD(routes[ar], delay);
	clear_holds_of_route(ar, delay);
	if
	:: !RUNS(ENTRY + ar) ->
		start(ENTRY + ar, ENTRY_LOW[delay], ENTRY_HIGH[delay]);
		if
		:: ENTRY_HIGH[delay] == 0 -> entry_ends(ar)
		:: else
		fi
	:: RUNS(ENTRY + ar) && SECOND_KEEPS == 0 ->
		if
		:: ENTRY_LOW[delay] < from_left[ENTRY + ar] -> from_left[ENTRY + ar] = ENTRY_LOW[delay]
		:: else
		fi;
		if
		:: ENTRY_HIGH[delay] < to_left[ENTRY + ar] -> to_left[ENTRY + ar] = ENTRY_HIGH[delay]
		:: else
		fi;
		if
		:: ENTRY_HIGH[delay] == 0 -> entry_ends(ar)
		:: else
		fi
	:: else
	fi
}

/* Trip of a zone that gets no grace; with an entry running it is off the route. */
inline trip_counts(ar, zo) {
	if
	:: RUNS(ENTRY + ar) && OFF_ROUTE_EN == 1 -> BREAK(R_WARNING)
	:: else -> raise_alarm(ar, REPORTS[zo])
	fi
}

/* ---- exit ---- */

/* "End of exit. Levels are read" */
inline exit_ends(ar) {
	stop(EXIT + ar);
	phase[ar] = P_SET;
	part_stays[ar] = false;
	blocked = false;
	truth = false;
	for (each : 0 .. ZONES_MOST - 1) {
		if
		:: each < ZONES && AREA[each] == ar && ZONE_OPEN(each) ->
			if
			:: IS(mode[ar], each) == B_ENTRY || IS(mode[ar], each) == B_FOLLOWER -> blocked = true
			:: IS(mode[ar], each) == B_INTERIOR && !HAS(out_until_closed, each) -> truth = true
			:: else
			fi
		:: else
		fi
	}
	each = 0;
	if
	:: blocked -> BREAK(R_EXIT_ERROR)
	:: !blocked && !left[ar] && DROP_TO_PART == 1 && mode[ar] == M_FULL ->
		mode[ar] = M_PART;
		BREAK(R_DROPPED)
	:: else ->
		if
		:: truth -> raise_alarm(ar, REPORTS[0])
		:: else
		fi
	fi
}

inline start_exit(ar) {
	start(EXIT + ar, EXIT_LOW[mode[ar]], EXIT_HIGH[mode[ar]]);
	if
	:: EXIT_HIGH[mode[ar]] == 0 -> exit_ends(ar)
	:: else
	fi
}

/* "the first opening, after a closing, of the same door during this exit loads the full exit delay again" */
inline exit_door_opens(ar, zo) {
	left[ar] = true;
	if
	:: EXIT_RESTART == 1 && !restarted[ar] && HAS(closed_since, zo) ->
		restarted[ar] = true;
		start(EXIT + ar, EXIT_LOW[mode[ar]], EXIT_HIGH[mode[ar]])
	:: else
	fi
}

/* ---- zones ---- */

inline zone_trips(zo) {
	the_area = AREA[zo];
	kind = IS(mode[the_area], zo);
	if
	:: phase[the_area] == P_UNSET || HAS(out_until_closed, zo) -> skip
	:: phase[the_area] == P_EXIT && !HAS(out_until_closed, zo) ->
		if
		:: part_stays[the_area] && IS(M_PART, zo) == B_PERIMETER -> raise_alarm(the_area, REPORTS[zo])
		:: !(part_stays[the_area] && IS(M_PART, zo) == B_PERIMETER) && kind == B_PERIMETER -> raise_alarm(the_area, REPORTS[zo])
		:: !(part_stays[the_area] && IS(M_PART, zo) == B_PERIMETER) && kind == B_ENTRY -> exit_door_opens(the_area, zo)
		:: else
		fi
	:: phase[the_area] == P_SET && !HAS(out_until_closed, zo) ->
		if
		:: kind == B_ENTRY -> the_delay = DELAY_OF(mode[the_area], zo); entry_door(the_area, the_delay)
		:: kind == B_PERIMETER || kind == B_INTERIOR -> trip_counts(the_area, zo)
		:: kind == B_FOLLOWER && !FOLLOWS_ROUTE(zo, routes[the_area]) && HOLD_HIGH[zo] == 0 -> trip_counts(the_area, zo)
		:: kind == B_FOLLOWER && !FOLLOWS_ROUTE(zo, routes[the_area]) && HOLD_HIGH[zo] != 0 && !RUNS(HOLD + zo) ->
			start(HOLD + zo, HOLD_LOW[zo], HOLD_HIGH[zo])
		:: else
		fi
	fi
}

inline door_moves(door, opens) {
	if
	:: opens && !HAS(doors_open, door) ->
		ADD(doors_open, door);
		for (the_zone : 0 .. ZONES_MOST - 1) {
			if
			:: the_zone < ZONES && CONTACT[the_zone] == 1 && DOOR[the_zone] == door -> zone_trips(the_zone)
			:: else
			fi
		}
		the_zone = 0
	:: !(opens) && HAS(doors_open, door) ->
		DROP_BIT(doors_open, door);
		for (the_zone : 0 .. ZONES_MOST - 1) {
			if
			:: the_zone < ZONES && CONTACT[the_zone] == 1 && DOOR[the_zone] == door ->
				the_area = AREA[the_zone];
				DROP_BIT(out_until_closed, the_zone);
				if
				:: phase[the_area] == P_EXIT && IS(mode[the_area], the_zone) == B_ENTRY ->
					left[the_area] = true;
					ADD(closed_since, the_zone)
				:: else
				fi
			:: else
			fi
		}
		the_zone = 0
	:: else
	fi
}

/* ---- keypad ---- */

/* "An open contact refuses setting; entry doors by entry_open_allowed." A follower's contact stands on the exit route too,
 * and what is on the exit route does not prevent setting (dossier 2.4: "active detector off the exit route"). */
inline look_ready(ar, wanted) {
	blocked = false;
	for (each : 0 .. ZONES_MOST - 1) {
		if
		:: each < ZONES && AREA[each] == ar && ZONE_OPEN(each) && IS(wanted, each) != B_OUT &&
				!((IS(wanted, each) == B_ENTRY || IS(wanted, each) == B_FOLLOWER) && ENTRY_OPEN_ALLOWED == 1) ->
			blocked = true
		:: else
		fi
	}
	each = 0
}

inline begin_exit(ar, wanted) {
	look_ready(ar, wanted);
	if
	:: blocked || (path_down && FAULTS_REFUSE == 1) || (phase[ar] == P_SET && (RUNS(ENTRY + ar) || alarm[ar] != 0)) -> BREAK(R_REFUSED)
	:: else ->
		part_stays[ar] = (phase[ar] == P_SET);
		phase[ar] = P_EXIT;
		mode[ar] = wanted;
		left[ar] = false;
		restarted[ar] = false;
		for (each : 0 .. ZONES_MOST - 1) {
			if
			:: each < ZONES && AREA[each] == ar -> DROP_BIT(closed_since, each)
			:: else
			fi
		}
		each = 0;
		start_exit(ar)
	fi
}

inline code_unsets(ar) {
	phase[ar] = P_UNSET;
	mode[ar] = M_NONE;
	part_stays[ar] = false;
	left[ar] = false;
	restarted[ar] = false;
	sounding[ar] = false;
	alarm[ar] = 0;
	pending[ar] = false;
	routes[ar] = 0;
	stop(EXIT + ar);
	stop(ENTRY + ar);
	stop(ABORT + ar);
	stop(SIREN + ar);
	for (each : 0 .. ZONES_MOST - 1) {
		if
		:: each < ZONES && AREA[each] == ar -> stop(HOLD + each); DROP_BIT(closed_since, each); DROP_BIT(out_until_closed, each)
		:: else
		fi
	}
	each = 0
}

/* ---- people ---- */

#define STEP(field) field[person * STEPS_MOST + step]

inline look(sign, ar) {
	if
	:: (sign) == S_SET -> truth = (phase[ar] != P_UNSET)
	:: (sign) == S_UNSET -> truth = (phase[ar] == P_UNSET)
	:: (sign) == S_EXIT_TONE -> truth = RUNS(EXIT + ar)
	:: (sign) == S_ENTRY_TONE -> truth = RUNS(ENTRY + ar)
	:: (sign) == S_SIREN -> truth = sounding[ar]
	:: (sign) == S_READY -> look_ready(ar, M_FULL); truth = !blocked
	:: (sign) == S_NOT_READY -> look_ready(ar, M_FULL); truth = blocked
	:: else -> truth = true
	fi
}

inline act() {
	if
	:: STEP(ACT) == A_OPEN -> door_moves(STEP(WHAT), true)
	:: STEP(ACT) == A_CLOSE -> door_moves(STEP(WHAT), false)
	:: STEP(ACT) == A_PASS -> the_zone = STEP(WHAT); zone_trips(the_zone); the_zone = 0
	:: STEP(ACT) == A_UNSET ->
		for (which_area : 0 .. AREAS_MOST - 1) {
			if
			:: HAS(STEP(WHERE), which_area) && phase[which_area] != P_UNSET -> code_unsets(which_area)
			:: else
			fi
		}
		which_area = 0
	:: STEP(ACT) == A_PATH_LOST && !path_down -> path_down = true; BREAK(R_TROUBLE)
	:: STEP(ACT) == A_PATH_BACK && path_down ->
		path_down = false;
		if
		:: queued -> queued = false; BREAK(R_ALARM)
		:: else
		fi
	:: STEP(ACT) == A_SET && STEP(MAY_SET) == 0 -> BREAK(R_REFUSED)
	:: STEP(ACT) == A_SET && STEP(MAY_SET) == 1 ->
		for (which_area : 0 .. AREAS_MOST - 1) {
			if
			:: HAS(STEP(WHERE), which_area) && (phase[which_area] == P_UNSET ||
					(phase[which_area] == P_SET && mode[which_area] == M_PART && STEP(WHAT) == M_FULL)) ->
				wanted_mode = STEP(WHAT);
				begin_exit(which_area, wanted_mode)
			:: else
			fi
		}
		which_area = 0
	:: else
	fi
}

/* A step begins to count when the person's step before is done, the other's step it waits for is done, and the sign it
 * waits for is there. */
inline wake() {
	for (person : 0 .. PEOPLE_MOST - 1) {
		step = next_step[person];
		if
		:: step < STEP_COUNT[person] && !RUNS(PERSON + person) ->
			look(STEP(WHEN), STEP(WHEN_AREA));
			if
			:: truth && (STEP(AFTER_PERSON) == OFF ||
					next_step[STEP(AFTER_PERSON)] > STEP(AFTER_STEP)) ->
				start(PERSON + person, STEP(STEP_LOW), STEP(STEP_HIGH))
			:: else
			fi
		:: else
		fi
	}
	person = 0
}

inline step_done(who, done) {
	person = who;
	step = next_step[person];
	stop(PERSON + person);
	if
	:: done ->
		look(STEP(IF), STEP(IF_AREA));
		if
		:: STEP(IF) == S_NONE || truth != (STEP(IF_NOT) == 1) -> act()
		:: else
		fi
	:: else
	fi;
	next_step[who] = next_step[who] + 1;
	wake()
}

/* ---- time ---- */

inline look_at_clocks() {
	jump = 32767;
	blocked = false;
	truth = false; /* whether anything runs at all */
	for (clock : 0 .. ACTIVITIES - 1) {
		if
		:: RUNS(clock) ->
			truth = true;
			blocked = blocked || to_left[clock] == 0;
			if
			:: from_left[clock] < jump -> jump = from_left[clock]
			:: else
			fi
		:: else
		fi
	}
	clock = 0
}

inline time_passes() {
	look_at_clocks();
	if
	:: JUMP == 0 || jump == 0 -> jump = 1
	:: else
	fi;
	for (clock : 0 .. ACTIVITIES - 1) {
		if
		:: RUNS(clock) ->
			to_left[clock] = to_left[clock] - jump;
			from_left[clock] = (from_left[clock] > jump -> from_left[clock] - jump : 0)
		:: else
		fi
	}
	clock = 0;
	jump = 0
}

#define MAY(activity) (RUNS(activity) && from_left[activity] == 0)
#define FREE(activity) (to_left[activity] != 0)
#define REST(activity) (to_left[activity] == OFF)
#define OF_ALL(has) (OF_PANEL(has) && OF_PEOPLE(has))
#define OF_PANEL(has) (has(0) && has(1) && has(2) && has(3) && has(4) && has(5) && has(6) && has(7) && has(8) && \
	has(9) && has(10) && has(11) && has(12))
#if PEOPLE_MOST == 2
#define OF_PEOPLE(has) (has(13) && has(14))
#elif PEOPLE_MOST == 3
#define OF_PEOPLE(has) (has(13) && has(14) && has(15))
#elif PEOPLE_MOST == 4
#define OF_PEOPLE(has) (has(13) && has(14) && has(15) && has(16))
#elif PEOPLE_MOST == 5
#define OF_PEOPLE(has) (has(13) && has(14) && has(15) && has(16) && has(17))
#else
#define OF_PEOPLE(has) (has(13) && has(14) && has(15) && has(16) && has(17) && has(18))
#endif

/* One statement each, so that no state lies between the choice and what it does. */
#define ENDS(activity) broken == 0 && MAY(activity)
#define LEAVES_OUT(person_) broken == 0 && MAY(PERSON + (person_)) && MAYBE[(person_) * STEPS_MOST + next_step[person_]] == 1

active proctype world() {
	d_step {
		c_code { read_constants(); };
		for (clock : 0 .. ACTIVITIES - 1) {
			stop(clock)
		}
		clock = 0;
		for (the_area : 0 .. AREAS_MOST - 1) {
			mode[the_area] = STARTS[the_area];
			phase[the_area] = (STARTS[the_area] == M_NONE -> P_UNSET : P_SET)
		}
		the_area = 0;
		wake()
	}
	do
	:: broken != 0 ->
		if
		:: (broken & ASSERTED) != 0 ->
			c_code { printf("broken %d\n", now.broken); };
			assert(false)
		:: else
		fi;
		break
	:: d_step { ENDS(EXIT) -> exit_ends(0); wake() }
	:: d_step { ENDS(EXIT + 1) -> exit_ends(1); wake() }
	:: d_step { ENDS(ENTRY) -> entry_ends(0); wake() }
	:: d_step { ENDS(ENTRY + 1) -> entry_ends(1); wake() }
	:: d_step { ENDS(ABORT) -> abort_ends(0); wake() }
	:: d_step { ENDS(ABORT + 1) -> abort_ends(1); wake() }
	:: d_step { ENDS(SIREN) -> siren_ends(0); wake() }
	:: d_step { ENDS(SIREN + 1) -> siren_ends(1); wake() }
	:: d_step { ENDS(HOLD) -> stop(HOLD); trip_counts(AREA[0], 0); wake() }
	:: d_step { ENDS(HOLD + 1) -> stop(HOLD + 1); trip_counts(AREA[1], 1); wake() }
	:: d_step { ENDS(HOLD + 2) -> stop(HOLD + 2); trip_counts(AREA[2], 2); wake() }
	:: d_step { ENDS(HOLD + 3) -> stop(HOLD + 3); trip_counts(AREA[3], 3); wake() }
	:: d_step { ENDS(HOLD + 4) -> stop(HOLD + 4); trip_counts(AREA[4], 4); wake() }
	:: d_step { ENDS(PERSON) -> step_done(0, true) }
	:: d_step { LEAVES_OUT(0) -> step_done(0, false) }
	:: d_step { ENDS(PERSON + 1) -> step_done(1, true) }
	:: d_step { LEAVES_OUT(1) -> step_done(1, false) }
#if PEOPLE_MOST > 2
	:: d_step { ENDS(PERSON + 2) -> step_done(2, true) }
	:: d_step { LEAVES_OUT(2) -> step_done(2, false) }
#endif
#if PEOPLE_MOST > 3
	:: d_step { ENDS(PERSON + 3) -> step_done(3, true) }
	:: d_step { LEAVES_OUT(3) -> step_done(3, false) }
#endif
#if PEOPLE_MOST > 4
	:: d_step { ENDS(PERSON + 4) -> step_done(4, true) }
	:: d_step { LEAVES_OUT(4) -> step_done(4, false) }
#endif
#if PEOPLE_MOST > 5
	:: d_step { ENDS(PERSON + 5) -> step_done(5, true) }
	:: d_step { LEAVES_OUT(5) -> step_done(5, false) }
#endif
	:: d_step { broken == 0 && OF_ALL(FREE) && !OF_ALL(REST) -> time_passes() }
	:: broken == 0 && OF_ALL(REST) -> break
	od
}
