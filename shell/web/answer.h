/* Answers to requests, as every one of them is given: with the headers that keep strangers out, and in the two shapes
 * that the page knows, a text and what became of an edit. */
#ifndef LINTEL_WEB_ANSWER_H
#define LINTEL_WEB_ANSWER_H

#include "web/bench.h"

#include <microhttpd.h>

/** Each of these answers once, and gives what libmicrohttpd wants to have back: MHD_NO where there was no memory, which
 *  ends the connection. */

/** response: taken over; may be NULL. */
enum MHD_Result answer_give(struct MHD_Connection *connection, unsigned status, const char *type,
        struct MHD_Response *response);

/** text: borrows; NULL: there was no memory for it. */
enum MHD_Result answer_say(
        struct MHD_Connection *connection, unsigned status, const char *type, const char *text);
enum MHD_Result answer_json(struct MHD_Connection *connection, const char *json);

/** One sentence in place of what was asked for. */
enum MHD_Result answer_refuse(struct MHD_Connection *connection, unsigned status, const char *text);

/** {"result": ..., "what": ...}: what became of an edit, or of anything that the problem says why it was not done. One
 *  of kind STOPPED: "overtaken", to be asked again. */
enum MHD_Result answer_edit(
        struct MHD_Connection *connection, enum bench_edit done, const struct problem *problem);

/** The JSON that was built, or the problem that kept it from being. */
enum MHD_Result answer_built(struct MHD_Connection *connection, outcome done,
        struct text_builder *out, const struct problem *problem);

/** Server-sent events: more and end take the stream of `context`, which is NULL where there was no memory for it. */
enum MHD_Result answer_stream(struct MHD_Connection *connection, void *context,
        MHD_ContentReaderCallback more, MHD_ContentReaderFreeCallback end);

#endif
