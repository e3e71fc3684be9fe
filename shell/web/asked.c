#include "web/asked.h"

json_t *asked_json(struct text body) {
    return json_loadb(
            body.start == NULL ? "" : body.start, body.length, JSON_REJECT_DUPLICATES, NULL);
}
