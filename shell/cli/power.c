#include "cli/quick.h"

static int run(const struct cli_command *command, int argc, char **argv) {
    return quick_command(command, argc, argv);
}

const struct cli_command cli_power = {
        .name = "power",
        .takes = "SITE ... | standby|wire|tree|loop|battery|magnet ...",
        .answers = "whether power lasts and wires carry: batteries, cables, loops",
        .help = "SITE is a site file: its panel's battery; lintel power SITE --help says more.\n"
                "The rest are quick sums by hand, without a site file; lintel power wire --help\n"
                "says what one takes. Every quantity carries its unit: 45m, 250mA, 7Ah, 4.7kohm;\n"
                "--explain shows each formula with its numbers and source (docs/power.md).\n"
                "\n"
                "Mains and batteries can hurt; mains wiring is an electrician's, by the local\n"
                "code. The makers' instructions win.\n",
        .run = run,
};
