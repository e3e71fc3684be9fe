/* What somebody without the key makes of frames that he recorded: none of it is news, and no answer tells him anything.
 * Frames as in frame_test.c; AES is OpenSSL's. */
#include "signals/test_receiver.h"

/* The header is not encrypted and its sum is no seal: whoever recorded a frame can put another number or another
 * account before it. */
static void a_recorded_frame_with_another_header_is_not_news(void **state) {
    (void)state;
    static const char cipher[] = "27D9C5D5914440FA82DD0970C4CE896AC75E3460636898803E7C79EBB7"
                                 "ABA07FEDCDADA6E0A354EAF0816EBF6D1D81F3"; /* of E1 */
    char body[1024];
    begin("account 1234 key " K128 "\naccount 777 key " K128);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0007R1L0#1234[%s", cipher);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    assert_int_equal(judge(E1), RECEIVER_REPEAT); /* the panel's own repeat is one all the same */
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0006R1L0#777[%s", cipher);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_OTHER_ACCOUNT);
    /* what could not be stored comes again and is news */
    begin("account 1234 key " K128);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    receiver_forget(&receiver, answer.owner, answer.mark, answer.cipher);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    /* after a start, of what an archive has */
    begin("account 1234 key " K128);
    const struct receiver_stored stored = {0, .account = text_of("1234"), .sequence = 6,
            .token = text_of("ADM-CID"), .data = text_of("#1234|1130 01 015"),
            .frame = text_of("\n" E1 "\r")};
    receiver_remember(&receiver, &stored, 0);
    receiver_remember_end(&receiver, stored.frame, 0);
    assert_int_equal(judge(E1), RECEIVER_REPEAT);
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0007R1L0#1234[%s", cipher);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
}

/* Whoever changes bytes of an old frame must not learn from the answer whether they still make sense (they would give
 * away, byte after byte, what was encrypted). Source: Vaudenay 2002, the attack on padding, in another dress. */
static void what_cannot_be_opened_is_answered_like_what_is_old(void **state) {
    (void)state;
    char old[RECEIVER_ANSWER_MAX];
    char body[1024];
    begin("account 1234 key " K128);
    assert_int_equal(judge_at(E1, AT + 86400, 1), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_CLOCK);
    const size_t length = answer.answer_length;
    memcpy(old, answer.answer, length);
    (void)snprintf(body, sizeof body,
            "\"*ADM-CID\"0006R1L0#1234["
            "27D9C5D5914440FA82DD0970C4CE896AC75E3460636898803E7C79EBB7"
            "ABA07FEDCDADA6E0A354EAF0816EBF6D1D81F2");
    assert_int_equal(judge_at(framed(body), AT + 86400, 1), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_OTHER_KEY);
    assert_int_equal(answer.answer_length, length);
    assert_memory_equal(answer.answer, old, length);
}

/* The token stands outside of what is encrypted: whoever calls an alarm a link test must not have it acknowledged and
 * forgotten. And a link test that was recorded is none under another number. */
static void an_alarm_is_no_link_test(void **state) {
    (void)state;
    char body[1024];
    begin("account 1234 key " K128 "\naccount 777 clear");
    (void)snprintf(body, sizeof body, "\"*NULL\"0006R1L0#1234[%s", strchr(E1, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_BAD_EVENT);
    assert_int_equal(judge(framed("\"NULL\"0000L0#777[#777|1130 01 015]")), RECEIVER_REFUSE);
    assert_int_equal(judge(framed("\"NULL\"0000L0#777[]")), RECEIVER_LINK);
    assert_int_equal(judge(E6), RECEIVER_LINK);
    assert_int_equal(judge(E6), RECEIVER_LINK);
    (void)snprintf(body, sizeof body, "\"*NULL\"0002R0L0#1234[%s", strchr(E6, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

/* Blocks of somebody else before those of a recorded frame are no pad, however they come out; and what opens and is no
 * event gets the very answer of what does not open, so that nothing can be learned block by block. */
static void blocks_put_before_it_are_no_pad(void **state) {
    (void)state;
    char body[1024];
    begin("account 1234 key " K128);
    for (int i = 0; i < 64; i++) {
        static const char *const tokens[] = {"*ADM-CID", "*NULL", "*SIA-DCS"};
        (void)snprintf(body, sizeof body,
                "\"%s\"%04dR1L0#1234[%02X112233445566778899AABBCCDDEE%02X%s", tokens[i % 3],
                i % 9000 + 1, i, 255 - i, strchr(E1, '[') + 1);
        assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
        assert_non_null(strstr(answer.answer, "\"NAK\""));
    }
    begin("account 1234 key " K128);
    (void)snprintf(body, sizeof body, "\"*XYZ\"0009R1L0#1234[%s", strchr(E1, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_OTHER_KIND);
    assert_non_null(strstr(answer.answer, "\"NAK\""));
}

static void turn(uint8_t *bytes, const char *from, const char *to) {
    for (size_t i = 0; i < FRAME_BLOCK; i++) {
        bytes[i] = (uint8_t)(from[i] ^ to[i]);
    }
}

/* The vector of the cipher is zero, so a block put before a frame changes the first one at will: account 123456789012
 * has one byte of padding, which 256 tries guess. The end of a frame is spent all the same. */
static void a_recorded_frame_with_another_beginning_is_not_news(void **state) {
    (void)state;
    uint8_t bytes[64] = {0};
    begin("account 123456789012 key " K128);
    const char *frame = sealed("\"*ADM-CID\"0001L0#123456789012",
            (const uint8_t *)"p|#123456789012|1131 01 077]_10:15:30,03-07-2024", 48);
    assert_int_equal(cipher_of(frame, bytes + FRAME_BLOCK), 48);
    assert_int_equal(judge(framed(frame)), RECEIVER_STORE);
    turn(bytes, "p|#123456789012|", "|#0123456789012|");
    assert_int_equal(judge_cipher("\"*ADM-CID\"0002L0#123456789012", bytes, 64), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    assert_non_null(strstr(answer.answer, "\"NAK\"")); /* one DUH would tell that it opened */
    assert_int_equal(judge_cipher("\"*ADM-CID\"0001L0#123456789012", bytes + FRAME_BLOCK, 48),
            RECEIVER_REPEAT);
}

/* An acknowledgement has the form of a link test, and a fresh time for whatever is put before it. */
static void an_acknowledgement_is_no_link_test(void **state) {
    (void)state;
    uint8_t bytes[64];
    begin("account 1234 key " K128);
    assert_int_equal(judge(E6), RECEIVER_LINK);
    assert_int_equal(cipher_of(answer.answer, bytes), 32);
    assert_int_equal(judge_cipher("\"*NULL\"0002R0L0#1234", bytes, 32), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    /* nor one from before the start, or of another receiver with the same key */
    begin("account 1234 key " K128);
    assert_int_equal(judge_cipher("\"*NULL\"0002R0L0#1234", bytes, 32), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

/* A link test that was recorded is answered as often as it is sent, each time with another end: these, and what is put
 * before them, must not push the ends of messages out of what is known (64 here). */
static void what_is_played_back_pushes_nothing_out(void **state) {
    (void)state;
    static const char link_test[] = "\n" E6 "\r";
    uint8_t bytes[64];
    char body[1024];
    begin("account 1234 key " K128);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    for (int i = 0; i < 2000; i++) {
        char pad[32];
        (void)snprintf(pad, sizeof pad, "%05dabcdefghijk", i);
        receiver_judge(&receiver, (struct text){link_test, sizeof link_test - 1},
                (struct receiver_now){AT, 2000}, pad, room, &answer);
        assert_int_equal(answer.verdict, RECEIVER_LINK);
        memset(bytes, i, FRAME_BLOCK);
        assert_int_equal(cipher_of(answer.answer, bytes + FRAME_BLOCK), 32);
        assert_int_equal(judge_cipher("\"*ADM-CID\"0009L0#1234", bytes, 48), RECEIVER_REFUSE);
    }
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0007R1L0#1234[%s", strchr(E1, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

/* Blocks of yesterday's frame, cut within its text, one that comes out as some text (here tried with the key), a zero
 * block and a fresh end: the whole opens. An end that was seen is spent, and one try spends it. */
static void an_old_frame_before_a_fresh_end_is_not_news(void **state) {
    (void)state;
    static const char header[] = "\"*SIA-DCS\"0005L0#1234";
    uint8_t bytes[256] = {0};
    uint8_t fresh[64];
    begin("account 1234 key " K128);
    (void)cipher_of(
            sealed(header,
                    (const uint8_t *)"padpadpadpadp|#1234|Nri1/BA015][IHALL DOOR OF A HOUSE]"
                                     "_10:15:30,03-06-2024......",
                    80),
            bytes);
    (void)cipher_of(sealed(header, (const uint8_t *)"0123456789|]_10:15:30,03-07-2024", 32), fresh);
    bool opens = false;
    for (unsigned i = 0; i < 20000 && !opens; i++) {
        for (unsigned at = 0; at < FRAME_BLOCK; at++) {
            bytes[48 + at] = (uint8_t)((i * 2654435761u) >> (at % 24));
        }
        memset(bytes + 64, 0, FRAME_BLOCK);
        memcpy(bytes + 80, fresh, 32);
        opens = would_open(bytes, 112);
    }
    assert_true(opens);
    assert_int_equal(judge_cipher("\"*NULL\"0001L0#1234", fresh, 32), RECEIVER_LINK);
    assert_int_equal(judge_cipher(header, bytes, 112), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    /* an end that did not come before, with something that does not open tried first */
    begin("account 1234 key " K128);
    bytes[0] ^= 0x80;
    bytes[16] ^= 0x80;
    assert_int_equal(judge_cipher(header, bytes, 112), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_OTHER_KEY);
    bytes[0] ^= 0x80;
    bytes[16] ^= 0x80;
    assert_int_equal(judge_cipher(header, bytes, 112), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

/* The last block holds minute, second and date, but not the hour: who changes that, in the block before, spoils the
 * one before that, here within a text, where one of ten spoilt ones passes. Whatever hour somebody writes, an end
 * counts once on its day. */
static void an_hour_that_is_changed_makes_no_news(void **state) {
    (void)state;
    enum { HOUR = 3600, LAST_DIGIT = 46 }; /* of the hour in the block after, as it is changed */
    static const char header[] = "\"*SIA-DCS\"0005L0#1234";
    uint8_t bytes[256];
    uint8_t changed[256];
    bool opens = false;
    begin("account 1234 key " K128);
    for (int i = 0; i < 2000 && !opens; i++) {
        char clear[96];
        (void)snprintf(clear, sizeof clear,
                "pad%09d|#1234|Nri1/BA015][IDOOR OF THE HOUSE BY WATER.]_10:15:30,03-07-2024", i);
        assert_int_equal(cipher_of(sealed(header, (const uint8_t *)clear, 80), bytes), 80);
        memcpy(changed, bytes, 80);
        changed[LAST_DIGIT] ^= '0' ^ '1';
        opens = would_open(changed, 80);
    }
    assert_true(opens);
    assert_int_equal(judge_cipher(header, bytes, 80), RECEIVER_STORE);
    assert_int_equal(judge_cipher_after(HOUR, header, changed, 80), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    /* after a start, of what an archive has of this day */
    begin("account 1234 key " K128);
    char line[1024];
    size_t at = (size_t)snprintf(line, sizeof line, "%s[", header);
    for (size_t i = 0; i < 80; i++) {
        at += (size_t)snprintf(line + at, sizeof line - at, "%02X", bytes[i]);
    }
    char stored[FRAME_MAX + 2];
    at = (size_t)snprintf(stored, sizeof stored, "\n%s\r", framed(line));
    receiver_remember_end(&receiver, (struct text){stored, at}, 1000);
    assert_int_equal(judge_cipher_after(HOUR, header, changed, 80), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    assert_int_equal(judge_cipher_after(HOUR, header, changed, 80), RECEIVER_REFUSE);
    /* with the machine, and so its steady clock, started in between */
    begin("account 1234 key " K128);
    receiver_remember_end(&receiver, (struct text){stored, at}, -HOUR * 1000);
    assert_int_equal(judge_cipher(header, changed, 80), RECEIVER_REFUSE);
    assert_int_equal(judge_cipher(header, bytes, 80), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

/* The first block of text is changed at will through the block before it, which is spoilt and passes for padding. With
 * the end of a message whose text nobody knows, and the number of one that is known, a repeat would be acknowledged
 * where the guess is right: two thousand tries tell what an alarm says. */
static void a_guess_at_a_text_is_no_repeat(void **state) {
    (void)state;
    uint8_t known[64];
    uint8_t unknown[64];
    bool opens = false;
    begin("account 1234 key " K128);
    (void)cipher_of(
            sealed("\"*SIA-DCS\"0005L0#1234",
                    (const uint8_t *)"0123456789abcdef|#1234|NOP3]_10:15:30,03-07-2024", 48),
            known);
    assert_int_equal(judge_cipher("\"*SIA-DCS\"0005L0#1234", known, 48), RECEIVER_STORE);
    for (int i = 0; i < 200 && !opens; i++) {
        char clear[64];
        (void)snprintf(clear, sizeof clear, "%016d|#1234|NBA7]_10:15:31,03-07-2024", i);
        (void)cipher_of(sealed("\"*SIA-DCS\"0006L0#1234", (const uint8_t *)clear, 48), unknown);
        uint8_t tried[64];
        memcpy(tried, unknown, 48);
        for (size_t at = 0; at < 4; at++) {
            tried[7 + at] ^= (uint8_t)("NBA7"[at] ^ "NOP3"[at]);
        }
        opens = would_open(tried, 48);
    }
    assert_true(opens);
    assert_int_equal(judge_cipher("\"*SIA-DCS\"0006L0#1234", unknown, 48), RECEIVER_STORE);
    const uint8_t guess[4] = {'N' ^ 'N', 'B' ^ 'O', 'A' ^ 'P', '7' ^ '3'};
    for (size_t at = 0; at < 4; at++) {
        unknown[7 + at] ^= guess[at];
    }
    assert_int_equal(judge_cipher("\"*SIA-DCS\"0005L0#1234", unknown, 48), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    for (size_t at = 0; at < 4; at++) {
        unknown[7 + at] ^= guess[at];
    }
    assert_int_equal(judge_cipher("\"*SIA-DCS\"0006L0#1234", unknown, 48), RECEIVER_REPEAT);
}

/* Whatever was brought into an archive: what is acknowledged as a repeat must be there, as it says. */
static void what_is_stored_otherwise_is_no_repeat(void **state) {
    (void)state;
    const struct receiver_stored good = {0, .account = text_of("1234"), .sequence = 1,
            .token = text_of("ADM-CID"), .data = text_of("#1234|1130 01 015"),
            .frame = text_of("\n" P3 "\r")};
    struct receiver_stored others[6] = {good, good, good, good, good, good};
    others[0].data = text_of("#1234|1602 00 000");
    others[1].token = text_of("SIA-DCS");
    others[2].sequence = 2;
    others[3].account = text_of("777");
    others[4].prefix = 5;
    others[5].frame = text_of("24.10.2026;17:30:02;Unset;3;1");
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        begin("account 1234 clear\naccount 777 clear");
        receiver_remember(&receiver, &others[i], 1000);
        assert_int_equal(judge(P3), RECEIVER_STORE);
    }
    begin("account 1234 clear");
    receiver_remember(&receiver, &good, 1000);
    assert_int_equal(judge(P3), RECEIVER_REPEAT);
    begin("account 1234 key " K128);
    struct receiver_stored secret = good;
    secret.sequence = 6;
    secret.frame = text_of("\n" E1 "\r");
    secret.data = text_of("#1234|1602 00 000");
    receiver_remember(&receiver, &secret, 1000);
    assert_int_equal(judge(E1), RECEIVER_STORE);
}

/* Of DC-09, 5.5.3.3: what came whole and cannot be processed is answered with DUH. So its panel goes on; all that could
 * have been made by somebody without the key, or be an event of which the token was changed, is sent again. */
static void what_can_never_be_taken_is_told_once(void **state) {
    (void)state;
    static const struct {
        const char *header;
        const char *clear; /* whole blocks */
        bool told;
    } cases[] = {
            {"\"*XYZ\"0007R1L0#1234", "..........|#1234|some 7]_10:15:30,03-07-2024.....", true},
            {"\"*ADM-CID\"0007R1L0#1234", "........|#1234|2130 01 015]_10:15:30,03-07-2024", true},
            {"\"*SIA-DCS\"0007R1L0#1234", "..........|#1234|Nri1/B]_10:15:30,03-07-2024", true},
            {"\"*XYZ\"0007R1L0#1234", "........|#1234|1130 01 015]_10:15:30,03-07-2024", false},
            {"\"*SIA-DCS\"0007R1L0#1234", "........|#1234|1130 01 015]_10:15:30,03-07-2024", false},
            {"\"*ADM-CID\"0007R1L0#1234", "........|#1234|Nri1/BA015]_10:15:30,03-07-2024", false},
            {"\"*NULL\"0007R1L0#1234", "..........|#1234|some 7]_10:15:30,03-07-2024", false},
            {"\"*XYZ\"0007R1L0#1234", "..........|some 7]_10:15:30,03-07-2024", false},
            {"\"*XYZ\"0007R1L0#1234", "..........|#1235|some 7]_10:15:30,03-07-2024", false},
            {"\"*XYZ\"0007R1L0#1234", "..........|#1234|s\xC3\xB6me 7]_10:15:30,03-07-2024", false},
            {"\"*XYZ\"0007R1L0#1234", "..........|#1234|some 7][I\xE9]_10:15:30,03-07-2024", false},
            {"\"*XYZ\"0007R1L0#1234", "..........|#1234|some 7]_11:15:30,03-07-2024", false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        uint8_t bytes[64];
        char clear[65];
        /* dots before the bar are the pad: as many as are needed */
        const char *bar = strchr(cases[i].clear, '|');
        const char *stop = strstr(bar, "2024") + 4;
        const size_t says = (size_t)(stop - bar);
        const size_t pad = 16 - says % 16;
        memset(clear, '.', pad);
        memcpy(clear + pad, bar, says);
        begin("account 1234 key " K128);
        assert_int_equal(
                cipher_of(sealed(cases[i].header, (const uint8_t *)clear, pad + says), bytes),
                pad + says);
        assert_int_equal(judge_cipher(cases[i].header, bytes, pad + says), RECEIVER_REFUSE);
        const char *nak = "\"NAK\"0000R0L0A0[]_10:15:30,03-07-2024\r";
        const char *duh = "\"DUH\"0007R1L0#1234[]\r";
        const char *told = cases[i].told ? duh : nak;
        assert_memory_equal(answer.answer + 9, told, strlen(told));
        /* its end is spent: whoever sends it again learns nothing more */
        assert_int_equal(judge_cipher(cases[i].header, bytes, pad + says), RECEIVER_REFUSE);
        assert_memory_equal(answer.answer + 9, nak, strlen(nak));
    }
}

/* Whoever has a key of his own, or an account in clear, pushes out what is his and nobody else's. */
static void who_sends_many_pushes_out_his_own(void **state) {
    (void)state;
    uint8_t bytes[64];
    begin("account 1234 key " K128 "\naccount 777 key 00000000000000000000000000000000\n"
          "account 888 clear\naccount 999 clear");
    assert_int_equal(judge(E1), RECEIVER_STORE);
    const uint32_t owner = answer.owner;
    const uint64_t mark = answer.mark;
    for (int i = 0; i < 2000; i++) {
        char clear[64];
        char header[64];
        (void)snprintf(
                clear, sizeof clear, "pad%07d|#777|1130 01 0%02d]_10:15:30,03-07-2024", i, i % 100);
        (void)snprintf(header, sizeof header, "\"*ADM-CID\"%04dL0#777", i % 9999 + 1);
        assert_int_equal(cipher_of(sealed_for(1, header, (const uint8_t *)clear, 48), bytes), 48);
        assert_int_equal(judge_cipher(header, bytes, 48), RECEIVER_STORE);
    }
    assert_true(recent_has(&recent, owner, mark, 1000));
    char body[1024];
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0007R1L0#1234[%s", strchr(E1, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    /* in clear alike */
    assert_int_equal(judge(framed("\"ADM-CID\"0001L0#888[|1130 01 015]")), RECEIVER_STORE);
    for (int i = 0; i < 2000; i++) {
        char line[64];
        (void)snprintf(line, sizeof line, "\"ADM-CID\"%04dL0#999[|1130 01 015]", i);
        assert_int_equal(judge(framed(line)), RECEIVER_STORE);
    }
    assert_int_equal(judge(framed("\"ADM-CID\"0001L0#888[|1130 01 015]")), RECEIVER_REPEAT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_teardown(a_recorded_frame_with_another_header_is_not_news, end),
            cmocka_unit_test_teardown(what_cannot_be_opened_is_answered_like_what_is_old, end),
            cmocka_unit_test_teardown(an_alarm_is_no_link_test, end),
            cmocka_unit_test_teardown(blocks_put_before_it_are_no_pad, end),
            cmocka_unit_test_teardown(a_recorded_frame_with_another_beginning_is_not_news, end),
            cmocka_unit_test_teardown(an_acknowledgement_is_no_link_test, end),
            cmocka_unit_test_teardown(what_is_played_back_pushes_nothing_out, end),
            cmocka_unit_test_teardown(an_old_frame_before_a_fresh_end_is_not_news, end),
            cmocka_unit_test_teardown(an_hour_that_is_changed_makes_no_news, end),
            cmocka_unit_test_teardown(a_guess_at_a_text_is_no_repeat, end),
            cmocka_unit_test_teardown(what_is_stored_otherwise_is_no_repeat, end),
            cmocka_unit_test_teardown(what_can_never_be_taken_is_told_once, end),
            cmocka_unit_test_teardown(who_sends_many_pushes_out_his_own, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
