#include "archive/archive.h"
#include "cli/cli.h"
#include "host/host.h"
#include "web/server.h"

#include <errno.h>
#include <pthread.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { PORT = 1, BIND, CERTIFICATE, PRIVATE_KEY, ARCHIVE, PORT_USUAL = 8417, PORT_MOST = 65535 };

static const struct option options[] = {
        {"port", required_argument, NULL, PORT},
        {"bind", required_argument, NULL, BIND},
        {"certificate", required_argument, NULL, CERTIFICATE},
        {"private-key", required_argument, NULL, PRIVATE_KEY},
        {"archive", required_argument, NULL, ARCHIVE},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/** What was asked for on the command line. */
struct wish {
    const char *bind; /* at which address */
    uint16_t port;
    struct server_place place; /* of both */
    const char *certificate;
    const char *private_key;
    const char *archive; /* of the signals, or NULL */
};

static bool read_port(const struct cli_command *command, const char *word, uint16_t *ret_port) {
    char *end = NULL;
    const long port = strtol(word, &end, 10);
    if (word[0] < '0' || word[0] > '9' || *end != '\0' || port > PORT_MOST) {
        (void)cli_misused(
                command, "--port wants 0 to %d (0: any that is free), not \"%s\"", PORT_MOST, word);
        return false;
    }
    *ret_port = (uint16_t)port;
    return true;
}

/** Until Ctrl-C or SIGTERM. The signals were blocked before any thread began, so that they end up here. */
static void wait_for_end(const sigset_t *ends) {
    int which = 0;
    while (sigwait(ends, &which) != 0) {
    }
}

static bool may_be_served(const struct cli_command *command, struct wish *wish) {
    if (!address_read(wish->bind, wish->port, &wish->place.address)) {
        (void)cli_misused(command,
                "--bind wants an address of this machine, such as 192.168.1.20 or fd00::20 "
                "(0.0.0.0 "
                "is all of them by IPv4, :: by IPv6), not \"%s\"",
                wish->bind);
        return false;
    }
    if ((wish->certificate == NULL) != (wish->private_key == NULL)) {
        (void)cli_misused(command, "--certificate FILE and --private-key FILE go together");
        return false;
    }
    if (wish->certificate == NULL && !address_is_inside(&wish->place.address)) {
        (void)cli_misused(command,
                "other machines could reach the bench there, and whoever sits between could read "
                "along: give --certificate FILE and --private-key FILE, or leave out --bind");
        return false;
    }
    return true;
}

static int serve(const char *path, struct server_place place, const char *archive) {
    struct sites *sites = NULL;
    struct server *server = NULL;
    struct problem problem = {0};
    char address[SERVER_ADDRESS_MOST];
    sigset_t ends;
    sigemptyset(&ends);
    sigaddset(&ends, SIGINT);
    sigaddset(&ends, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &ends, NULL);
    (void)signal(SIGPIPE, SIG_IGN);
    if (!sites_open(path, getenv("LINTEL_DATA"), &sites, &problem).good) {
        return cli_refused(NULL, &problem);
    }
    sites_use_archive(sites, archive);
    if (!server_start(&place, sites, &server, &problem).good) {
        sites_close(sites);
        return cli_refused(NULL, &problem);
    }
    server_address(server, address, sizeof address);
    (void)printf("%s\n", address);
    (void)printf(address_is_inside(&place.address)
                    ? "Open this address in a browser on this machine; Ctrl-C ends the bench.\n"
                    : "Whoever has this address can change the site, from any machine that reaches "
                      "this one;\nCtrl-C ends the bench.\n");
    (void)fflush(stdout);
    wait_for_end(&ends);
    sites_stop(sites);
    server_stop(server);
    sites_close(sites);
    return CLI_GOOD;
}

/** With the certificate and its key in memory that is wiped afterwards. */
static int serve_sealed(const char *path, const struct wish *wish) {
    struct arena arena;
    struct seal seal;
    struct problem problem = {0};
    struct server_place place = wish->place;
    if (wish->certificate == NULL) {
        return serve(path, place, wish->archive);
    }
    arena_init(&arena, host_wiped_pages(), 0);
    place.seal = &seal;
    const int done = seal_read(wish->certificate, wish->private_key, &arena, &seal, &problem).good
            ? serve(path, place, wish->archive)
            : cli_refused(NULL, &problem);
    arena_finish(&arena);
    return done;
}

/** A folder, or a file; one that cannot be read as a site is shown on the page with its problems. */
static outcome find_there(const char *path, struct arena *arena, struct problem *ret_problem) {
    struct stat status;
    struct text content = {0};
    const bool there = stat(path, &status) == 0;
    if (there && S_ISDIR(status.st_mode)) {
        return outcome_good();
    }
    if (!there && errno == ENOENT) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "%.120s is not there yet: \"lintel serve\" alone begins a site on the page, "
                "\"lintel "
                "new %.120s\" by question and answer",
                path, path);
    }
    return host_read_file(path, 0, arena, &content, ret_problem);
}

static int check_there(const char *path) {
    struct arena arena;
    struct problem problem = {0};
    arena_init(&arena, host_pages(), 0);
    const bool there = find_there(path, &arena, &problem).good;
    arena_finish(&arena);
    return there ? CLI_GOOD : cli_refused(NULL, &problem);
}

/** Whether the archive can be written; it is made where there is none. */
static int check_archive(const char *path) {
    struct archive *archive = NULL;
    struct problem problem = {0};
    if (path != NULL && !archive_open(path, ARCHIVE_NEW, &archive, &problem).good) {
        return cli_refused(NULL, &problem);
    }
    archive_close(archive);
    return CLI_GOOD;
}

/** Takes one option; false: it was used wrongly, and that has been said. */
static bool take(const struct cli_command *command, int option, struct wish *wish) {
    switch (option) {
    case PORT:
        return read_port(command, optarg, &wish->port);
    case BIND:
        wish->bind = optarg;
        return true;
    case CERTIFICATE:
        wish->certificate = optarg;
        return true;
    case PRIVATE_KEY:
        wish->private_key = optarg;
        return true;
    case ARCHIVE:
        wish->archive = optarg;
        return true;
    default:
        return false;
    }
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct wish wish = {.bind = "127.0.0.1", .port = PORT_USUAL};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (!take(command, option, &wish)) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
    }
    const char *path = optind == argc ? "." : argv[optind];
    if (argc - optind > 1 || strcmp(path, "-") == 0) {
        return cli_misused(command, "one site file, or one folder of them");
    }
    if (!may_be_served(command, &wish)) {
        return CLI_UNREADABLE;
    }
    if (wish.archive != NULL && wish.archive[0] == '-') {
        return cli_misused(command, "--archive wants a file, not \"%s\"", wish.archive);
    }
    int there = check_there(path);
    if (there == CLI_GOOD) {
        there = check_archive(wish.archive);
    }
    return there == CLI_GOOD ? serve_sealed(path, &wish) : there;
}

const struct cli_command cli_serve = {
        .name = "serve",
        .takes = "[SITE|FOLDER]",
        .answers = "the bench in a browser, checked at every change",
        .help = "  --port N              where to listen, 0 to 65535 (else 8417); 0 takes any\n"
                "                        that is free\n"
                "  --bind ADDRESS        at this address, IPv4 or IPv6, for other machines, such\n"
                "                        as a tablet on site (0.0.0.0 or ::, at all of this\n"
                "                        machine); wants both files, but for 127.0.0.1 (the\n"
                "                        usual) and ::1, which are this machine alone\n"
                "  --certificate FILE    speak TLS, with this certificate (PEM, a chain too); the\n"
                "                        bench is asked by the names in it, and by no other\n"
                "  --private-key FILE    its private key (PEM), readable by its owner alone\n"
                "  --archive FILE        where lintel listen stores the panel's signals: with it\n"
                "                        the page takes the site through its acceptance\n"
                "  --help                this page\n\n"
                "SITE is one site file; FOLDER holds several (else: the folder you stand in): the\n"
                "page then begins with their list, and with four questions for a new one.\n\n"
                "Prints one address and serves until Ctrl-C. Only this machine can reach it but\n"
                "with --bind, and only with the key at the end of the address. What is changed\n"
                "on the page is written into the site file at once, comments and layout kept;\n"
                "what is changed in the file shows on the page. docs/serving.md says more.\n",
        .run = run,
};
