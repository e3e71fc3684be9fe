/* The page, built in: files of page/ as they are, made into C by tools/embed. */
#ifndef LINTEL_WEB_FILE_H
#define LINTEL_WEB_FILE_H

#include <stddef.h>

struct web_file {
    const char *path; /* "/main.js"; the page itself is "/" */
    const char *type;
    const unsigned char *bytes;
    size_t length;
};

extern const struct web_file web_files[];
extern const size_t web_file_count;

#endif
