/* `lintel signals`: quick sums on what a panel sends. What was typed is taken apart here; how it is shown, in
 * signals_show.c. */
#ifndef LINTEL_CLI_SIGNALS_H
#define LINTEL_CLI_SIGNALS_H

#include "base/json.h"
#include "base/text.h"
#include "cipher/cipher.h"
#include "signals/contact_id.h"
#include "signals/frame.h"
#include "signals/sia.h"

enum signals_form {
    SIGNALS_FRAME,
    SIGNALS_CONTACT_ID,
    SIGNALS_EVENT,
    SIGNALS_SIA,
    SIGNALS_FORM_COUNT
};

/** One signal, taken apart. source: as it was given (bytes of a frame with its line feed and return). form: what it
 *  seems to be; fault.kind other than NONE: why it is none after all, at a byte of source. Which of the others are
 *  filled depends on the form; of a frame: contact_id or sia by its token, `inner` where its data could not be read.
 *  opened: it was encrypted, and a key fits. */
struct signals_answer {
    enum signals_form form;
    struct text source;
    struct signal_fault fault;
    struct frame frame;
    bool opened;
    struct contact_id_message message;
    struct contact_id event;
    struct sia sia;
    struct signal_fault inner;
};

/** What opens and closes encrypted frames: accounts of a key file, and a cipher. room: the arena for what is opened. */
struct signals_keys {
    const struct accounts *accounts;
    struct cipher *cipher;
    struct arena *room;
};

/** Takes one signal apart. source: bytes; of a frame with line feed and return. keys: NULL where nobody gave any. */
struct signals_answer signals_decode(struct text source, const struct signals_keys *keys);

/** Whether something is wrong with it. */
bool signals_wrong(const struct signals_answer *answer);

/** For people, in 80 columns; for programs. */
void signals_show(const struct signals_answer *answer, struct text_builder *out);
void signals_show_json(const struct signals_answer *answer, struct json_writer *json);

/** What a code means: "130", "1130", "E130", "BA"; false where it is no code of either format. */
bool signals_explain(struct text code, struct text_builder *out);

/** Every code of both tables, one a line. */
void signals_list(struct text_builder *out);

#endif
