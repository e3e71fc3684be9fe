#include "cli/quick.h"

static int run(const struct cli_command *command, int argc, char **argv) {
    return quick_command(command, argc, argv);
}

const struct cli_command cli_power = {
        .name = "power",
        .takes = "standby|wire|tree|loop|battery|magnet ...",
        .answers = "whether power lasts and wires carry: batteries, cables, loops",
        .help = "Quick sums by hand, without a site file. Every quantity carries its unit: 45m,\n"
                "250mA, 7Ah, 4.7kohm; --explain shows each formula with its numbers and source.\n"
                "lintel power wire --help says what a sum takes. docs/power.md has the formulas.\n"
                "\n"
                "Mains and batteries can hurt; mains wiring is an electrician's, by the local\n"
                "code. The makers' instructions win.\n",
        .run = run,
};
