/* Every frame gets the answer that the standard says. The expected answers were made with independent means (frames as
 * in frame_test.c: two CRC routines, the openssl command line), none by this code. AES is OpenSSL's. */
#include "signals/test_receiver.h"

#define P4 "BE410027\"ADM-CID\"0002L0#1234[#1234|3130 01 015]"
#define P5 "EE820041\"SIA-DCS\"0003R1LA5#1234AB[#1234AB|Nri1/BA015]_10:15:30,03-07-2024"
#define P8 "ED02003D\"ADM-CID\"0001R1L0#1234[#1234|3401 02 003]_10:15:30,03-07-2024"
/* The answer to E1, its pad 7756B178CA and, of what "openssl mac SIPHASH" makes of that with a key of zeros, the first
 * five bytes with their highest bit set; encrypted by "openssl enc". */
#define MARKED                                                                                     \
    "BE160054\"*ACK\"0006R1L0#1234["                                                               \
    "6CC9DA57D9484D1491004DFAEC936213F454B039B7E0C3C6A268C1C7E94F085C"

static void in_clear_the_header_comes_back(void **state) {
    (void)state;
    begin("account 1234 clear\naccount 1234AB prefix A5 clear");
    assert_int_equal(judge(P3), RECEIVER_STORE);
    answered("1EB60014\"ACK\"0001R1L0#1234[]"); /* A1 */
    assert_true(text_is(answer.frame.content.data, "#1234|1130 01 015"));
    assert_int_equal(judge(P4), RECEIVER_STORE);
    answered("14310012\"ACK\"0002L0#1234[]"); /* A2 */
    assert_int_equal(judge(P8), RECEIVER_STORE);
    answered("1EB60014\"ACK\"0001R1L0#1234[]"); /* the same number, another event */
    assert_int_equal(judge(P5), RECEIVER_STORE);
    assert_int_equal(judge("28330015\"NULL\"0000R0L0#1234[]"), RECEIVER_LINK);
    assert_int_equal(answer.answer_length, strlen(framed("\"ACK\"0000R0L0#1234[]")) + 2);
}

/* A frame in clear is not held against any clock; a panel that was never told the time may count from 1970, or not. */
static void in_clear_no_time_matters(void **state) {
    (void)state;
    begin("account 1234 clear");
    assert_int_equal(judge_at(P3, AT + 86400, 1), RECEIVER_STORE);
    assert_int_equal(
            judge(framed("\"ADM-CID\"0002R1L0#1234[#1234|1130 01 015]_00:00:42,01-01-1970")),
            RECEIVER_STORE);
    assert_int_equal(answer.frame.content.stamp_s, 42);
    assert_int_equal(
            judge(framed("\"ADM-CID\"0003R1L0#1234[#1234|1130 01 015]_00:00:00,00-00-0000")),
            RECEIVER_STORE);
    assert_false(answer.frame.content.stamped);
    assert_int_equal(
            judge(framed("\"ADM-CID\"0004R1L0#1234[#1234|1130 01 015]_23:59:60,12-31-2016")),
            RECEIVER_STORE);
    assert_int_equal(
            judge(framed("\"ADM-CID\"0005R1L0#1234[#1234|1130 01 015]00:00:00,00-00-0000")),
            RECEIVER_SILENT);
}

static void encrypted_so_is_the_answer(void **state) {
    (void)state;
    begin("account 1234 key " K128);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    answered(MARKED);
    assert_true(text_is(answer.frame.content.data, "#1234|1130 01 015"));
    assert_int_equal(judge(E6), RECEIVER_LINK);
}

/* Source: the table of DC-09, 5.5.1.8, in docs/signals.md; both ends taken as included. */
static void the_time_window_and_its_refusal(void **state) {
    (void)state;
    static const struct {
        int64_t off_s;
        enum receiver_verdict verdict;
    } cases[] = {{-20, RECEIVER_STORE}, {-21, RECEIVER_REFUSE}, {40, RECEIVER_STORE},
            {41, RECEIVER_REFUSE}, {86400, RECEIVER_REFUSE}, {-86400, RECEIVER_REFUSE}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        begin("account 1234 key " K128);
        assert_int_equal(judge_at(E1, AT + cases[i].off_s, 1), cases[i].verdict);
        assert_int_equal(
                answer.reason, cases[i].verdict == RECEIVER_STORE ? RECEIVER_FINE : RECEIVER_CLOCK);
    }
    /* the refusal carries the receiver's own time: A3, one day on */
    assert_int_equal(judge_at(E1, AT + 86400, 1), RECEIVER_REFUSE);
    assert_memory_equal(answer.answer + 9, "\"NAK\"0000R0L0A0[]_10:15:30,03-08-2024\r", 38);
    assert_int_equal(judge_at(E1, AT + 3600, 1), RECEIVER_REFUSE);
    assert_memory_equal(answer.answer + 9, "\"NAK\"0000R0L0A0[]_11:15:30,03-07-2024\r", 38);
}

static void a_repeat_is_known_for_five_minutes(void **state) {
    (void)state;
    begin("account 1234 clear");
    assert_int_equal(judge_at(P3, AT, 0), RECEIVER_STORE);
    assert_int_equal(judge_at(P3, AT, 0), RECEIVER_REPEAT);
    answered("1EB60014\"ACK\"0001R1L0#1234[]");
    /* the same words with the time of sending them again */
    assert_int_equal(
            judge_at(framed("\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:50,03-07-2024"), AT,
                    20000),
            RECEIVER_REPEAT);
    assert_int_equal(judge_at(P3, AT, RECENT_S * 1000), RECEIVER_REPEAT);
    assert_int_equal(judge_at(P3, AT, RECENT_S * 1000 + 1), RECEIVER_STORE);
    /* one that could not be stored is news again */
    receiver_forget(&receiver, answer.owner, answer.mark, answer.cipher);
    assert_int_equal(judge_at(P3, AT, RECENT_S * 1000 + 1), RECEIVER_STORE);
}

/* A recorded frame that somebody plays back is either a repeat or out of the window: never news. */
static void played_back_it_is_never_news(void **state) {
    (void)state;
    begin("account 1234 key " K128);
    assert_int_equal(judge_at(E1, AT - 20, 0), RECEIVER_STORE);
    for (int64_t later_s = 0; later_s < 4000; later_s++) {
        assert_int_not_equal(judge_at(E1, AT - 20 + later_s, later_s * 1000), RECEIVER_STORE);
    }
}

/* The system's clock may jump; what came before is known all the same. */
static void a_clock_that_jumps_makes_no_news(void **state) {
    (void)state;
    begin("account 1234 clear");
    assert_int_equal(judge_at(P3, AT, 5000), RECEIVER_STORE);
    assert_int_equal(judge_at(P3, AT + 1000000, 6000), RECEIVER_REPEAT);
    assert_int_equal(judge_at(P3, AT - 1000000, 7000), RECEIVER_REPEAT);
}

static void what_is_refused_and_how(void **state) {
    (void)state;
    static const char ack[] = "\"ACK\"0001R1L0#1234[]";
    static const char nak[] = "\"NAK\"0000R0L0A0[]_10:15:30,03-07-2024";
    static const struct {
        const char *keys;
        const char *line;
        const char *body; /* instead of a line */
        enum receiver_reason reason;
        bool silent;
    } cases[] = {
            {"account 1234 clear", P5, NULL, RECEIVER_STRANGER, false},
            {"account 1234AB clear", P5, NULL, RECEIVER_STRANGER, false},
            {"account 1234 clear", E1, NULL, RECEIVER_HAS_NO_KEY, false},
            {"account 1234 key " K128, P3, NULL, RECEIVER_MUST_ENCRYPT, false},
            {"account 1234 key 00000000000000000000000000000000", E1, NULL, RECEIVER_OTHER_KEY,
                    false},
            {"account 1234 key " K128 K128, E1, NULL, RECEIVER_OTHER_KEY, false},
            {"account 1234 clear", NULL, "\"ADM-CID\"0001L0#1234[#1234|2130 01 015]",
                    RECEIVER_BAD_EVENT, false},
            {"account 1234 clear", NULL, "\"ADM-CID\"0001L0#1234[#777|1130 01 015]",
                    RECEIVER_OTHER_ACCOUNT, false},
            {"account 1234 clear", NULL, "\"SIA-DCS\"0001L0#1234[#1234|nothing]",
                    RECEIVER_BAD_EVENT, false},
            {"account 1234 clear", NULL, "\"SIA-PUL\"0001L0#1234[#1234|12]", RECEIVER_OTHER_KIND,
                    false},
            {"account 1234 clear", NULL, ack, RECEIVER_IS_ANSWER, true},
            {"account 1234 clear", NULL, nak, RECEIVER_IS_ANSWER, true},
            {"account 1234 clear", NULL, "\"DUH\"0001R1L0#1234[]", RECEIVER_IS_ANSWER, true},
            {"account 1234 clear", NULL, "\"ADM-CID\"0001L0#1234[#1234|1130 01 015",
                    RECEIVER_NO_FRAME, true},
            {"account 1234 clear",
                    "F031003D\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024", NULL,
                    RECEIVER_NO_FRAME, true},
            {"account 1234 clear",
                    "F030003E\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024", NULL,
                    RECEIVER_NO_FRAME, true},
            {"account 1234 clear", "", NULL, RECEIVER_NO_FRAME, true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        begin(cases[i].keys);
        enum receiver_verdict verdict =
                judge(cases[i].line != NULL ? cases[i].line : framed(cases[i].body));
        assert_int_equal(answer.reason, cases[i].reason);
        assert_int_equal(verdict, cases[i].silent ? RECEIVER_SILENT : RECEIVER_REFUSE);
        assert_true((answer.answer_length == 0) == cases[i].silent);
        const bool time = answer.reason == RECEIVER_OTHER_KEY;
        assert_true(
                cases[i].silent || memcmp(answer.answer + 9, time ? "\"NAK\"" : "\"DUH\"", 5) == 0);
        assert_true(strlen(receiver_reason_words(answer.reason)) > 0);
    }
    begin("account 1234 clear");
    assert_int_equal(judge(P5), RECEIVER_REFUSE);
    answered("8D8C0017\"DUH\"0003R1LA5#1234AB[]"); /* A4 */
}

/* Digests are no secret: two messages can be made to meet in one. One account's never hides another's. */
static void no_account_hides_another_s_message(void **state) {
    (void)state;
    begin("account 1234 clear\naccount 777 clear");
    assert_int_equal(judge(P3), RECEIVER_STORE);
    assert_true(recent_has(&recent, answer.owner, answer.mark, 1));
    assert_false(recent_has(&recent, answer.owner + 1, answer.mark, 1));
    recent_note(&recent, answer.owner + 1, answer.mark, 1);
    recent_forget(&recent, answer.owner + 1, answer.mark);
    assert_true(recent_has(&recent, answer.owner, answer.mark, 1));
}

/* A body with any bytes: with sum and length before it, judged. */
static enum receiver_verdict judge_body(const char *start, size_t length) {
    static const char pad[FRAME_BLOCK + 1] = "abcdefghijklmnop";
    static char bytes[FRAME_MAX];
    const int head = snprintf(bytes, sizeof bytes, "\n%04X%04zX",
            (unsigned)signals_crc((struct text){start, length}), length);
    memcpy(bytes + head, start, length);
    bytes[(size_t)head + length] = '\r';
    receiver_judge(&receiver, (struct text){bytes, (size_t)head + length + 1},
            (struct receiver_now){AT, 1000}, pad, room, &answer);
    return answer.verdict;
}

/* A test signal whose further bytes were reckoned (by lattice reduction) so that its digest is that of an alarm to
 * come: it must not make that alarm look like a repeat. */
static void a_forged_digest_hides_no_alarm(void **state) {
    (void)state;
    static const char test_signal[] = "\"ADM-CID\"0007L0#1234[#1234|1602 00 000][Abbfkif"
                                      "\x02\x06\x05\x07\x07\x03\x0E\x06\x01\x04\x02\x03\x05\x08"
                                      "\x0F\x01\x00\x00?\x0C]";
    static const char alarm[] = "\"ADM-CID\"0042L0#1234[#1234|1130 01 015]";
    begin("account 1234 clear");
    assert_int_equal(judge_body(test_signal, sizeof test_signal - 1), RECEIVER_STORE);
    const uint64_t digest = answer.digest;
    assert_int_equal(judge_body(alarm, sizeof alarm - 1), RECEIVER_STORE);
    assert_true(answer.digest == digest); /* it is forged well */
    assert_int_equal(judge_body(alarm, sizeof alarm - 1), RECEIVER_REPEAT);
}

static void the_longest_header_has_an_answer(void **state) {
    (void)state;
    begin("account 1234567890ABCDEF prefix ABCDEF key " K128 K128);
    assert_int_equal(judge(framed("\"ADM-CID\"0001RABCDEFLABCDEF#1234567890ABCDEF[|1130 01 015]")),
            RECEIVER_REFUSE);
    assert_true(answer.answer_length > 0);
    begin("account 1234567890ABCDEF prefix ABCDEF clear");
    assert_int_equal(judge(framed("\"ADM-CID\"0001RABCDEFLABCDEF#1234567890ABCDEF[|1130 01 015]")),
            RECEIVER_STORE);
    assert_true(answer.answer_length > 0);
}

/* Of more messages than it holds, the newest are known. */
static void of_too_many_the_oldest_are_forgotten(void **state) {
    (void)state;
    enum { COUNT = 5000 };
    begin("account 1234 clear");
    for (uint64_t i = 0; i < COUNT; i++) {
        recent_note(&recent, 0, i * UINT64_C(0x9E3779B97F4A7C15), (int64_t)i);
    }
    size_t known = 0;
    for (uint64_t i = 0; i < COUNT; i++) {
        bool has = recent_has(&recent, 0, i * UINT64_C(0x9E3779B97F4A7C15), COUNT);
        known += has;
        assert_true(has || i < COUNT - 8);
    }
    assert_int_equal(known, recent.buckets * RECENT_SIDE_BY_SIDE);
}

/* What an archive has may have come before the machine was started, and so before its steady clock was 0. */
static void what_came_before_the_clock_began_is_known(void **state) {
    (void)state;
    begin("account 1234 clear");
    assert_true(recent_make(&arena, RECENT_SIDE_BY_SIDE, RECENT_S, &recent, NULL).good);
    recent_note(&recent, 0, 77, 1 - RECENT_S * 1000);
    recent_note(&recent, 0, 78, -1);
    recent_note(&recent, 0, 79, 0);
    assert_true(recent_has(&recent, 0, 77, 1));
    assert_true(recent_has(&recent, 0, 78, 1));
    assert_false(recent_has(&recent, 0, 77, 2));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_teardown(in_clear_the_header_comes_back, end),
            cmocka_unit_test_teardown(in_clear_no_time_matters, end),
            cmocka_unit_test_teardown(encrypted_so_is_the_answer, end),
            cmocka_unit_test_teardown(the_time_window_and_its_refusal, end),
            cmocka_unit_test_teardown(a_repeat_is_known_for_five_minutes, end),
            cmocka_unit_test_teardown(played_back_it_is_never_news, end),
            cmocka_unit_test_teardown(a_clock_that_jumps_makes_no_news, end),
            cmocka_unit_test_teardown(what_is_refused_and_how, end),
            cmocka_unit_test_teardown(no_account_hides_another_s_message, end),
            cmocka_unit_test_teardown(a_forged_digest_hides_no_alarm, end),
            cmocka_unit_test_teardown(the_longest_header_has_an_answer, end),
            cmocka_unit_test_teardown(of_too_many_the_oldest_are_forgotten, end),
            cmocka_unit_test_teardown(what_came_before_the_clock_began_is_known, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
