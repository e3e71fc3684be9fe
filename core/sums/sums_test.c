/* The words of quick sums: what is read, what is refused and how, and that the figures are those of the physics. */
#include "sums/test_sums.h"

#define LINK "radio link --mhz 433.92 --power -14.4dBm --sensitivity -105dBm"

/* Budget by hand: -14.40 - 51.22 - 2 x 3.20 - 5.30 - 10 = -87.32 dBm, 17.68 dB over -105 dBm; Phi(17.68 / 8) = 0.9864.
 * In measured houses (COST 231): three heavy walls, 20.7 dB. */
static void a_link_is_its_budget(void **unused) {
    (void)unused;
    struct ran ran = run_words(LINK " --distance 20m --wall brick:100mm --wall brick:100mm --wall "
                                    "concrete:200mm --loss 10dB");
    assert_true(ran.good);
    const struct sums_figure *arrives = figure_of(&ran, "arrives_dbm", NULL);
    assert_true(fabs(arrives->high + 87.31) < 0.02);
    assert_true(fabs(arrives->low + 96.32) < 0.02);
    assert_true(fabs(figure_of(&ran, "margin_db", NULL)->high - 17.69) < 0.02);
    assert_true(fabs(figure_of(&ran, "reaches_percent", NULL)->high - 98.64) < 0.02);
    assert_false(ran.answer.wrong);
    finish_run(&ran);
}

static void feet_are_metres(void **unused) {
    (void)unused;
    assert_figure(LINK " --distance 100ft", "free_space_db", NULL, 54.87, 0.01);
    assert_figure(LINK " --distance 30.48m", "free_space_db", NULL, 54.87, 0.01);
    assert_figure(LINK " --distance=30.48m", "free_space_db", NULL, 54.87, 0.01);
}

/* ERC/REC 70-03: 25 mW is 13.98 dBm, 10 mW 10 dBm. */
static void milliwatts_are_levels(void **unused) {
    (void)unused;
#define LINE "radio link --mhz 868.3 --sensitivity -105dBm --distance 10m --power "
    struct ran ran = run_words(LINE "25mW");
    assert_true(ran.good);
    assert_figure(
            LINE "13.979dBm", "margin_db", NULL, figure_of(&ran, "margin_db", NULL)->low, 0.001);
    finish_run(&ran);
    assert_refused(LINE "0mW", "--power: one power over 0 is expected, for example 10mW");
#undef LINE
}

static void what_conducts_is_measured_in_no_house(void **unused) {
    (void)unused;
    struct ran ran = run_words(LINK " --distance 20m --wall metal:1mm");
    assert_true(ran.good);
    const struct sums_figure *loss = figure_of(&ran, "loss_db", "wall 1");
    assert_true(loss->low > 39.9 && loss->high < 40.1);
    finish_run(&ran);
}

static void the_verdict_follows_the_margin(void **unused) {
    (void)unused;
    static const struct {
        const char *distance;
        const char *verdict;
        bool wrong;
    } ROWS[] = {
            {"10m", "reaches", false},
            {"500m", "reaches in the middle case, without enough to spare for a bad place", false},
            {"30000m", "does not reach", true},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        char line[200];
        (void)snprintf(line, sizeof line, LINK " --distance %s", ROWS[i].distance);
        struct ran ran = run_words(line);
        assert_true(ran.good);
        assert_true(text_is(figure_of(&ran, "verdict", NULL)->words, ROWS[i].verdict));
        assert_int_equal(ran.answer.wrong, ROWS[i].wrong);
        finish_run(&ran);
    }
}

/* The same wall twice in one test of core/radio; here that the words arrive there. */
static void a_wall_is_read_layer_by_layer(void **unused) {
    (void)unused;
    assert_figure("radio wall plasterboard:12.5mm air:75mm plasterboard:12.5mm --mhz 433.92",
            "loss_db", NULL, 0.21, 0.0051);
    assert_figure("radio wall brick:100mm --mhz 433.92 --angle 60", "te_db", NULL, 6.85, 0.0051);
    assert_figure("radio wall brick:100mm --mhz 433.92 --angle 60deg", "tm_db", NULL, 1.91, 0.0051);
    assert_figure(
            "radio wall brick:100mm --mhz 868.3 --edition 2015", "loss_db", NULL, 3.93, 0.0051);
    assert_figure("radio wall sheet:10ohm --mhz 868.3", "loss_db", NULL, 25.95, 0.0051);
    assert_figure("radio wall brick:100mm --mhz 2.45GHz", "loss_db", NULL, 3.26, 0.0051);
}

static void what_is_wrong_is_said_with_what_to_write(void **unused) {
    (void)unused;
    assert_refused("radio wall brick:100 --mhz 433.92",
            "layer \"brick:100\": \"100\" has no unit; write a length: mm, cm or m, for example "
            "100 mm");
    assert_refused("radio wall brik:100mm --mhz 433.92",
            "layer \"brik:100mm\": there is no material \"brik\"; did you mean brick?");
    assert_refused("radio wall brick --mhz 433.92",
            "\"brick\" is no layer; write material and thickness, for example brick:100mm");
    assert_refused("radio wall brick:0mm --mhz 433.92",
            "layer \"brick:0mm\": one thickness over 0 to 10 m, brick:100mm");
    assert_refused("radio wall brick:-5mm --mhz 433.92",
            "layer \"brick:-5mm\": \"-5mm\" is negative; a length is 0 or more");
    assert_refused("radio wall sheet:0ohm --mhz 433.92",
            "layer \"sheet:0ohm\": one resistance per square over 0, sheet:4ohm");
    assert_refused(
            "radio wall brick:100mm", "--mhz MHZ is missing: frequency in MHz, such as 433.92");
    assert_refused("radio wall --mhz 433.92", "it takes LAYER ... --mhz MHZ");
    assert_refused("radio wall brick:100mm --mhz 1", "--mhz: 1 is outside 30 to 100000 MHz");
    assert_refused("radio wall brick:100mm --mhz nan",
            "--mhz: \"nan\" is not a number with a unit; write for example 433.92 MHz");
    assert_refused(
            "radio wall brick:100mm --mhz 433.92 --angle 90", "--angle: 90 is outside 0 to 89 deg");
    assert_refused("radio wall brick:100mm --mhz 433.92 --angle 0..60",
            "--angle: one value is expected, not a from-to");
    assert_refused("radio wall brick:100mm --mhz 433.92 --mhz 868", "--mhz is given twice");
    assert_refused("radio wall brick:100mm --mhz",
            "--mhz wants a value: frequency in MHz, such as 433.92");
    assert_refused("radio wall brick:100mm --mhz 433.92 --edition 1999",
            "--edition: \"1999\" is none of: 2021 2015");
    assert_refused("radio wall brick:100mm --mhz 433.92 --angel 60",
            "there is no option \"--angel\"; did you mean --angle?");
    assert_refused(LINK " --distance 15",
            "--distance: \"15\" has no unit; write mm, cm or m, for example 15m");
    assert_refused("power magnet --diameter 8",
            "--diameter: \"8\" has no unit; write mm, cm or m, for example 8mm");
    assert_refused(LINK " --distance 20m brick:100mm", "\"brick:100mm\" is one word too many");
    assert_refused(LINK " --distance 0m",
            "a distance is 0.69 m (one wavelength, closer in the sum means nothing) to 100 km");
    assert_refused(LINK " --distance 20m --wall brick:100mm,",
            "\"\" is no layer; write material and thickness, for example brick:100mm");
}

static void every_figure_says_how_it_came_about(void **unused) {
    (void)unused;
    static const char *const LINES[] = {
            "radio wall brick:100mm sheet:10ohm --mhz 433.92 --angle 60",
            LINK " --distance 20m --wall brick:100mm --floor chipboard:22mm",
    };
    for (size_t i = 0; i < sizeof LINES / sizeof *LINES; i++) {
        struct ran ran = run_words(LINES[i]);
        assert_true(ran.good);
        for (size_t k = 0; k < ran.answer.figure_count; k++) {
            const struct sums_figure *figure = &ran.answer.figures[k];
            const bool given = strcmp(figure->key, "thickness_mm") == 0;
            assert_true(given || figure->words.length > 0 ||
                    (figure->how.length > 0 && strlen(figure->source) > 0));
        }
        finish_run(&ran);
    }
}

static void every_sum_is_found_and_has_words_for_its_options(void **unused) {
    (void)unused;
    for (size_t i = 0; i < sums_count(); i++) {
        const struct sums_sum *sum = sums_at(i);
        assert_ptr_equal(sums_find(sum->command, text_of(sum->name)), sum);
        assert_true(sum->option_count <= SUMS_OPTIONS_MOST && strlen(sum->answers) > 0);
        for (size_t k = 0; k < sum->option_count; k++) {
            assert_true(strlen(sum->options[k].help) > 0 && strlen(sum->options[k].shown) > 0);
            assert_true(sum->options[k].takes == SUMS_WORD ||
                    sum->options[k].low < sum->options[k].high);
        }
    }
    assert_null(sums_find("radio", text_of("gingerbread")));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_link_is_its_budget),
            cmocka_unit_test(feet_are_metres),
            cmocka_unit_test(milliwatts_are_levels),
            cmocka_unit_test(what_conducts_is_measured_in_no_house),
            cmocka_unit_test(the_verdict_follows_the_margin),
            cmocka_unit_test(a_wall_is_read_layer_by_layer),
            cmocka_unit_test(what_is_wrong_is_said_with_what_to_write),
            cmocka_unit_test(every_figure_says_how_it_came_about),
            cmocka_unit_test(every_sum_is_found_and_has_words_for_its_options),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
