#include "cli/quick.h"

static int run(const struct cli_command *command, int argc, char **argv) {
    return quick_command(command, argc, argv);
}

const struct cli_command cli_radio = {
        .name = "radio",
        .takes = "SITE ... | wall|link|supervise|traffic ...",
        .answers = "whether radio gets through: walls, links, supervision, traffic",
        .help = "SITE is a site file; lintel radio SITE --help says more. The rest\n"
                "are quick sums by hand, without a site file; lintel radio wall --help says what\n"
                "one takes. Every quantity carries its unit: 12m, 433.92MHz, -105dBm; --explain\n"
                "shows each formula with its numbers and source (docs/radio.md).\n"
                "\n"
                "Measure on site before you rely on it: the maker's instructions win.\n",
        .run = run,
};
