#include "cli/quick.h"

static int run(const struct cli_command *command, int argc, char **argv) {
    return quick_command(command, argc, argv);
}

const struct cli_command cli_radio = {
        .name = "radio",
        .takes = "SITE ... | wall|link|supervise|traffic ...",
        .answers = "whether radio gets through: walls, links, supervision, traffic",
        .help = "SITE is a site file with a drawing: lintel radio SITE --help says what it takes.\n"
                "The rest are quick sums by hand, without a site file. Every quantity carries its "
                "unit: 12m,\n"
                "433.92MHz, -105dBm; --explain shows each formula with its numbers and source.\n"
                "lintel radio wall --help says what a sum takes. docs/radio.md has the formulas.\n"
                "\n"
                "Measure on site before you rely on it: the maker's instructions win.\n",
        .run = run,
};
