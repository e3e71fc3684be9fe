/* Making the usual routines: what their files share. Not for other modules; those read proof.h. */
#ifndef LINTEL_PROOF_USUAL_H
#define LINTEL_PROOF_USUAL_H

#include "proof/proof.h"

/** Seconds that no way and no habit tells. All common practice; sources stand beside the values (usual.c). */
struct usual_times {
    struct span away;      /* gone for the day */
    struct span turn;      /* until the next one of the household leaves */
    struct span keys_back; /* forgotten keys: back so soon after the door closed; see keys_late_s */
    int32_t keys_late_s;   /* and at the latest so long after the exit delay */
    struct span keys_search; /* looking for them before setting again */
    struct span bags;        /* putting the shopping down */
    struct span again;       /* wrong code: wait, clear, key again */
    struct span step_inside; /* from one room to the next */
    struct span toilet;      /* until one goes back to bed */
    struct span dog_at_door;
    struct span dog_out;      /* until the door is closed behind the dog */
    struct span window;       /* to the window that stands open and back */
    struct span ring;         /* door closed, then the parcel comes */
    struct span parcel;       /* the door stands open for it */
    struct span family_comes; /* after the child */
    struct span cleaning;     /* from room to room */
    struct span goods;        /* put down */
    struct span opener_later; /* the first one of the staff, after the delivery */
    struct span goods_wait;   /* the deliverer sees that somebody is in */
    struct span to_keypad;    /* from wherever one works */
    struct span stock_left;   /* of the stocktaking, when the auto-set was put off */
    struct span guest_behind; /* the host */
    struct span guest_stay;
    struct span pocket;  /* the fob has set: understood */
    struct span at_home; /* until somebody else at home crosses a room */
    struct span outage;
    struct span late_night, three, six, early, night; /* seconds since midnight */
    struct span stock_before;                         /* the auto-set, somebody is still counting */
    int32_t slow_walk_tenths; /* with a stick: up to so many tenths of the usual time */
    int32_t slow_code_s;      /* an unpractised one takes up to so long for the code */
};
extern const struct usual_times usual_times;

enum { USUAL_USERS_MAX = 3, USUAL_ROOMS_MAX = 8 };

/** A routine being written. needs: why it does not apply, empty as long as it does. */
struct usual_draft {
    const struct site *site;
    struct arena *arena;
    struct site_routine routine;
    struct site_step steps[SITE_STEP_MAX];
    size_t count;
    bool overflowed;
    bool refused_memory;
    struct text needs;
};

/** Writes one usual routine. way: the way in use that it is about, or SITE_NONE where it chooses for itself. */
typedef void usual_maker(struct usual_draft *draft, int way);

usual_maker usual_leaves, usual_keys, usual_shopping, usual_parcel, usual_stick; /* per way */
usual_maker usual_teenager, usual_toilet, usual_dog, usual_window, usual_lodger, usual_child,
        usual_cleaner, usual_delivery, usual_stocktaking, usual_guest, usual_fob, usual_duress,
        usual_mains;

/* ---- what the site says (usual_people.c) ---- */

/** A way in use: an outside door and a keypad at its end. */
bool usual_way_in_use(const struct site *site, int way);

/** The areas, common ones left out, in which what this person keys at this keypad (or presses) acts. */
uint32_t usual_acts(const struct site *site, int person, int keypad);

/** Whether a written routine sends the person along the way. */
bool usual_walks(const struct site *site, int person, int way);

/** Whether people come in by it: not where written routines only ever leave by it. */
bool usual_walked_in(const struct site *site, int way);
/** By which way they come back who left by this one: by itself, or by another one to the same keypad.
 *  same_door: only through the same door. */
int usual_way_back(const struct site *site, int way, bool same_door);

/** Who plausibly uses a way with a code or fob: whoever a written routine sends along it and whose code acts at its
 *  keypad; else whose code acts in all of the keypad's areas; else in some. File order, no animals, no duress codes.
 *  Gives their number, at most USUAL_USERS_MAX. */
size_t usual_users(const struct site *site, int way, int *ret_users);

/** The same without those who only come to clean or to deliver, unless nobody else does: for what is done at home. */
size_t usual_household(const struct site *site, int way, int *ret_users);

/** Comes to work here and goes again, by the name: "cleaner", "driver". */
extern const char *const usual_cleaning[];
extern const char *const usual_delivering[];
bool usual_serves(const struct site *site, int person);

/** Of these the one who keys slowest; the first of equals. */
int usual_slowest(const struct site *site, const int *users, size_t count);

/** Person whose name holds one of the words (a list ended by NULL), or SITE_NONE. code: only with a code or fob. */
int usual_named(const struct site *site, const char *const *words, bool code);
bool usual_name_has(struct text name, const char *const *words);

/** The way in use that this person takes: a written one, else the first at whose keypad the code acts; or SITE_NONE. */
int usual_way_of(const struct site *site, int person);

/** The first way in use that has users, or SITE_NONE. */
int usual_first_way(const struct site *site);

/** The mode in which people stay in the area: night, else part, when a written routine starts or sets it or a zone is
 *  keyed for it otherwise than usual; else SITE_NONE. */
int usual_stay_mode(const struct site *site, int area);

/** Whether any area has one, and the first way in use with somebody whose code acts in such an area. */
bool usual_stays_anywhere(const struct site *site);
bool usual_stay(const struct site *site, int *ret_area, int *ret_mode, int *ret_way);

/** Motion detectors in rooms of these areas; walked: only those that a way or a written routine passes (all, if none
 *  is). Gives their number, at most USUAL_ROOMS_MAX. */
size_t usual_rooms(const struct site *site, uint32_t areas, bool walked, int *ret_zones);

enum site_sense usual_sense(const struct site *site, int zone);
bool usual_has_key(const struct site *site, int person);
int usual_lowest(uint32_t areas);

/* ---- writing steps (usual_steps.c) ---- */

/** A further step; its own habit for `in`, nothing waited for. */
struct site_step *usual_step(struct usual_draft *draft, int who, enum site_act act);
struct site_step *usual_step_in(
        struct usual_draft *draft, int who, enum site_act act, struct span in);
void usual_at(struct site_step *step, struct span at);
void usual_if(struct site_step *step, enum site_sign sign, int area);
/** Index of the newest step. */
int usual_last(const struct usual_draft *draft);

/** Keys (or presses the fob) to set or unset at the end of a way. */
struct site_step *usual_unset(struct usual_draft *draft, int who, int keypad);
struct site_step *usual_set(struct usual_draft *draft, int who, int keypad, int mode);
struct site_step *usual_come(struct usual_draft *draft, int who, int way);
struct site_step *usual_go(struct usual_draft *draft, int who, int way);
/** Sets full and goes; with a fob only: goes and presses. Gives the first of the steps. */
struct site_step *usual_leave(struct usual_draft *draft, int who, int way);
/** Passes detectors one after another. */
void usual_pass(struct usual_draft *draft, int who, const int *zones, size_t count, struct span in);
/** The person's own time for keying once; slow: unpractised. */
struct span usual_keying(const struct site *site, int person, bool slow);
/** From the door of a way to its keypad. */
struct span usual_walk(const struct site *site, int way);
struct span usual_sum(struct span a, struct span b);
struct span usual_stretch(struct span span, int32_t tenths);

/** These areas start set in the mode; a common area when every other one is. */
void usual_start(struct usual_draft *draft, uint32_t areas, int mode);

/** It does not apply. */
void usual_needs(struct usual_draft *draft, const char *format, ...)
        __attribute__((format(printf, 2, 3)));
void usual_says(struct usual_draft *draft, const char *format, ...)
        __attribute__((format(printf, 2, 3)));
/** "the baker", "Ida"; upper: at the start of a sentence. */
struct text usual_name(struct usual_draft *draft, struct text name, bool upper);
struct text usual_who(struct usual_draft *draft, int person, bool upper);
struct text usual_door(struct usual_draft *draft, int way);
const char *usual_word_sets(const struct usual_draft *draft);
const char *usual_word_unsets(const struct usual_draft *draft);
const char *usual_word_set(const struct usual_draft *draft);

#endif
