#include "cli/cli.h"
#include "host/host.h"
#include "web/server.h"

#include <pthread.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { PORT = 1, PORT_USUAL = 8417, PORT_MOST = 65535 };

static const struct option options[] = {
        {"port", required_argument, NULL, PORT},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
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

static int serve(const char *path, uint16_t port) {
    struct sites *sites = NULL;
    struct server *server = NULL;
    struct problem problem = {0};
    sigset_t ends;
    sigemptyset(&ends);
    sigaddset(&ends, SIGINT);
    sigaddset(&ends, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &ends, NULL);
    (void)signal(SIGPIPE, SIG_IGN);
    if (!sites_open(path, getenv("LINTEL_DATA"), &sites, &problem).good) {
        return cli_refused(NULL, &problem);
    }
    if (!server_start(port, sites, &server, &problem).good) {
        sites_close(sites);
        return cli_refused(NULL, &problem);
    }
    (void)printf("http://127.0.0.1:%u/?key=%s\n", server_port(server), server_token(server));
    (void)printf("Open this address in a browser on this machine; Ctrl-C ends the bench.\n");
    (void)fflush(stdout);
    wait_for_end(&ends);
    sites_stop(sites);
    server_stop(server);
    sites_close(sites);
    return CLI_GOOD;
}

/** Whether there is such a folder or file; one that cannot be read as a site is shown on the page with its problems. */
static int check_there(const char *path) {
    struct arena arena;
    struct stat status;
    struct text content = {0};
    struct problem problem = {0};
    if (stat(path, &status) == 0 && S_ISDIR(status.st_mode)) {
        return CLI_GOOD;
    }
    arena_init(&arena, host_pages(), 0);
    const bool there = host_read_file(path, 0, &arena, &content, &problem).good;
    arena_finish(&arena);
    return there ? CLI_GOOD : cli_refused(NULL, &problem);
}

static int run(const struct cli_command *command, int argc, char **argv) {
    uint16_t port = PORT_USUAL;
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option != PORT || !read_port(command, optarg, &port)) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
    }
    const char *path = optind == argc ? "." : argv[optind];
    if (argc - optind > 1 || strcmp(path, "-") == 0) {
        return cli_misused(command, "one site file, or one folder of them");
    }
    const int there = check_there(path);
    return there == CLI_GOOD ? serve(path, port) : there;
}

const struct cli_command cli_serve = {
        .name = "serve",
        .takes = "[SITE|FOLDER]",
        .answers = "the bench in a browser, checked at every change",
        .help = "  --port N   where to listen on this machine, 0 to 65535 (else 8417);\n"
                "             0 takes any that is free\n"
                "  --help     this page\n\n"
                "SITE is one site file; FOLDER holds several (else: the folder you stand in): the\n"
                "page then begins with their list, and with four questions for a new one.\n\n"
                "Prints one address and serves until Ctrl-C. Only this machine can reach it, and\n"
                "only with the key at the end of the address. What is changed on the page is\n"
                "written into the site file at once, comments and layout kept; what is changed in\n"
                "the file shows on the page. docs/serving.md says more.\n",
        .run = run,
};
