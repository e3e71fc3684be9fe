#include "host/host.h"

#include <stdlib.h>

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

/* Through a volatile pointer: the compiler may not leave out writes to what is given back next. */
static void give_wiped(void *context, void *block, size_t size) {
    (void)context;
    volatile unsigned char *bytes = block;
    for (size_t i = 0; i < size; i++) {
        bytes[i] = 0;
    }
    free(block);
}

struct pages host_wiped_pages(void) {
    return (struct pages){.get = get_page, .give = give_wiped};
}
