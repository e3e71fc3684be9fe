/* The certificate with which the bench shows who it is, and its private key, as the user supplies them: read, and
 * looked at before anybody listens. Whom it was made for are the names by which the bench may be asked. */
#ifndef LINTEL_WEB_SEAL_H
#define LINTEL_WEB_SEAL_H

#include "base/arena.h"
#include "base/problem.h"
#include "base/text.h"
#include "web/door.h"

/** certificate, private_key: PEM, NUL-terminated; a chain begins with the bench's own certificate. names: of machines
 *  and addresses in it (RFC 6125, 6.4: the subject's alternative names), in lower case, by IPv6 in brackets; no
 *  patterns. All in the arena. */
struct seal {
    const char *certificate;
    const char *private_key;
    struct text names[DOOR_NAMES_MOST];
    size_t name_count;
};

/** Reads both files. Fails as they cannot be read; BAD_VALUE: the key can be read by others than its owner, the files
 *  are no PEM, do not belong together, the certificate names nobody, or is not valid today. The text says what to
 *  do. */
outcome seal_read(const char *certificate_path, const char *private_key_path, struct arena *arena,
        struct seal *ret_seal, struct problem *ret_problem) MUST_CHECK;

#endif
