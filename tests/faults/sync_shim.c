/* A disk that takes what is written and fails to bring it to safety, as long as the file named by SYNC_FAILS is there.
 * */
#include <dlfcn.h>
#include <errno.h>
#include <stdlib.h>
#include <unistd.h>

static int failing(void) {
    const char *flag = getenv("SYNC_FAILS");
    return flag != NULL && access(flag, F_OK) == 0;
}

static int pass(const char *name, int file) {
    int (*real)(int file) = NULL;
    *(void **)&real = dlsym(RTLD_NEXT, name);
    if (failing()) {
        errno = EIO;
        return -1;
    }
    return real(file);
}

int fsync(int file) {
    return pass("fsync", file);
}

int fdatasync(int file) {
    return pass("fdatasync", file);
}
