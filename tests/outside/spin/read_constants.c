/* Part of the compiled verifier: fills the model's numbers from the file that PANEL_CONSTANTS names. A file that is not
 * there, too short or too long ends the run: half-read numbers are no verdict. */
static FILE *constants_file;

static short read_number(void) {
    long value = 0;
    if (fscanf(constants_file, "%ld", &value) != 1 || value < -32768 || value > 32767) {
        printf("constants: cannot be read\n");
        exit(3);
    }
    return (short)value;
}

static void read_constants(void) {
    const char *name = getenv("PANEL_CONSTANTS");
    long rest;
    int i;
    constants_file = name == NULL ? NULL : fopen(name, "r");
    if (constants_file == NULL) {
        printf("constants: no file\n");
        exit(3);
    }
#define NUMBER(which) which = read_number();
#define NUMBERS(which, count)                                                                      \
    for (i = 0; i < (count); i++)                                                                  \
        which[i] = read_number();
#include "constants.def"
#undef NUMBER
#undef NUMBERS
    if (fscanf(constants_file, "%ld", &rest) == 1) {
        printf("constants: too many\n");
        exit(3);
    }
    fclose(constants_file);
}
