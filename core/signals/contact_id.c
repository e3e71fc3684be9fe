#include "signals/contact_id.h"

#include <string.h>

/** What a symbol counts in the check sum: 1 to 15; 0: no symbol (there is no A). */
static unsigned weight(char symbol) {
    if (symbol >= '1' && symbol <= '9') {
        return (unsigned)(symbol - '0');
    }
    if (symbol >= 'B' && symbol <= 'F') {
        return (unsigned)(symbol - 'B' + 11);
    }
    return symbol == '0' ? 10 : 0;
}

/** count digits as a number; false where one is none, *ret_wrong then tells which. */
static bool number_of(const char *symbols, size_t count, uint16_t *ret_number, size_t *ret_wrong) {
    unsigned number = 0;
    for (size_t i = 0; i < count; i++) {
        if (symbols[i] < '0' || symbols[i] > '9') {
            *ret_wrong = i;
            return false;
        }
        number = number * 10 + (unsigned)(symbols[i] - '0');
    }
    *ret_number = (uint16_t)number;
    return true;
}

static bool known_qualifier(char symbol) {
    return symbol == '0' + CONTACT_ID_NEW || symbol == '0' + CONTACT_ID_BACK ||
            symbol == '0' + CONTACT_ID_STILL;
}

/** A part of digits: where it begins, how many, what is wrong where it is none. */
struct part {
    size_t begins;
    size_t count;
    enum signal_fault_kind fault;
};

/** Q, then code, group, number at the given places of the symbols; place[i] tells where symbol i stood in the
 *  source. */
static bool read_parts(const char *symbols, const struct part parts[3], const size_t *place,
        struct contact_id *ret_event, struct signal_fault *ret_fault) {
    if (!known_qualifier(symbols[parts[0].begins - 1])) {
        return signal_fault(ret_fault, SIGNAL_FAULT_QUALIFIER, place[parts[0].begins - 1]);
    }
    uint16_t numbers[3] = {0};
    for (size_t i = 0; i < 3; i++) {
        size_t wrong = 0;
        if (!number_of(symbols + parts[i].begins, parts[i].count, &numbers[i], &wrong)) {
            return signal_fault(ret_fault, parts[i].fault, place[parts[i].begins + wrong]);
        }
    }
    *ret_event = (struct contact_id){
            .qualifier = (enum contact_id_qualifier)(symbols[parts[0].begins - 1] - '0'),
            .code = numbers[0],
            .group = (uint8_t)numbers[1],
            .number = numbers[2],
    };
    return true;
}

bool contact_id_read_event(struct text source, size_t at, struct contact_id *ret_event,
        struct signal_fault *ret_fault) {
    static const struct part parts[3] = {
            {1, 3, SIGNAL_FAULT_CODE},
            {5, 2, SIGNAL_FAULT_GROUP},
            {8, 3, SIGNAL_FAULT_NUMBER},
    };
    if (source.length < CONTACT_ID_EVENT_LENGTH) {
        return signal_fault(ret_fault, SIGNAL_FAULT_ENDS_EARLY, at + source.length);
    }
    if (source.length > CONTACT_ID_EVENT_LENGTH) {
        return signal_fault(ret_fault, SIGNAL_FAULT_TRAILING, at + CONTACT_ID_EVENT_LENGTH);
    }
    size_t place[CONTACT_ID_EVENT_LENGTH];
    for (size_t i = 0; i < CONTACT_ID_EVENT_LENGTH; i++) {
        place[i] = at + i;
    }
    for (size_t i = 4; i <= 7; i += 3) {
        if (source.start[i] != ' ') {
            return signal_fault(ret_fault, SIGNAL_FAULT_SPACE, at + i);
        }
    }
    return read_parts(source.start, parts, place, ret_event, ret_fault);
}

static void put_digits(char *at, unsigned number, int count) {
    for (int i = count - 1; i >= 0; i--) {
        at[i] = (char)('0' + number % 10);
        number /= 10;
    }
}

void contact_id_write_event(struct contact_id event, char ret_bytes[CONTACT_ID_EVENT_LENGTH]) {
    memset(ret_bytes, ' ', CONTACT_ID_EVENT_LENGTH);
    ret_bytes[0] = (char)('0' + event.qualifier);
    put_digits(ret_bytes + 1, event.code, 3);
    put_digits(ret_bytes + 5, event.group, 2);
    put_digits(ret_bytes + 8, event.number, 3);
}

/** The sixteen symbols without the spaces between, and where each stood. */
static bool gather(struct text source, char symbols[CONTACT_ID_MESSAGE_LENGTH],
        size_t place[CONTACT_ID_MESSAGE_LENGTH], struct signal_fault *ret_fault) {
    size_t count = 0;
    for (size_t i = 0; i < source.length; i++) {
        if (source.start[i] == ' ') {
            continue;
        }
        if (count == CONTACT_ID_MESSAGE_LENGTH) {
            return signal_fault(ret_fault, SIGNAL_FAULT_TRAILING, i);
        }
        if (weight(source.start[i]) == 0) {
            return signal_fault(ret_fault, SIGNAL_FAULT_BYTE, i);
        }
        symbols[count] = source.start[i];
        place[count++] = i;
    }
    return count == CONTACT_ID_MESSAGE_LENGTH ||
            signal_fault(ret_fault, SIGNAL_FAULT_ENDS_EARLY, source.length);
}

bool contact_id_read(struct text source, struct contact_id_message *ret_message,
        struct signal_fault *ret_fault) {
    static const struct part parts[3] = {
            {7, 3, SIGNAL_FAULT_CODE},
            {10, 2, SIGNAL_FAULT_GROUP},
            {12, 3, SIGNAL_FAULT_NUMBER},
    };
    char symbols[CONTACT_ID_MESSAGE_LENGTH];
    size_t place[CONTACT_ID_MESSAGE_LENGTH];
    struct contact_id_message message = {0};
    if (!gather(source, symbols, place, ret_fault)) {
        return false;
    }
    /* The sum first: where a symbol was garbled, what the symbols seem to say means nothing. */
    if (contact_id_check_digit(symbols) != symbols[15]) {
        return signal_fault(ret_fault, SIGNAL_FAULT_CHECK_DIGIT, place[15]);
    }
    if (symbols[5] != '8' || (symbols[4] != '1' && symbols[4] != '9')) {
        return signal_fault(ret_fault, SIGNAL_FAULT_MESSAGE_TYPE, place[4]);
    }
    if (!read_parts(symbols, parts, place, &message.event, ret_fault)) {
        return false;
    }
    memcpy(message.account, symbols, sizeof message.account);
    message.type = symbols[4] == '1' ? 18 : 98;
    *ret_message = message;
    return true;
}

void contact_id_write(
        struct contact_id_message message, char ret_bytes[CONTACT_ID_MESSAGE_LENGTH]) {
    memcpy(ret_bytes, message.account, sizeof message.account);
    put_digits(ret_bytes + 4, message.type, 2);
    ret_bytes[6] = (char)('0' + message.event.qualifier);
    put_digits(ret_bytes + 7, message.event.code, 3);
    put_digits(ret_bytes + 10, message.event.group, 2);
    put_digits(ret_bytes + 12, message.event.number, 3);
    ret_bytes[15] = contact_id_check_digit(ret_bytes);
}

char contact_id_check_digit(const char symbols[CONTACT_ID_MESSAGE_LENGTH - 1]) {
    static const char by_value[] = " 1234567890BCDEF";
    unsigned sum = 0;
    for (size_t i = 0; i < CONTACT_ID_MESSAGE_LENGTH - 1; i++) {
        if (weight(symbols[i]) == 0) {
            return '\0';
        }
        sum += weight(symbols[i]);
    }
    return by_value[15 - sum % 15];
}
