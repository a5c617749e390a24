/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Runs that are saved in a file and gone on with. */

#include "sim/state_file.h"
#include "sim/handles.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool say_errno(char *fault, size_t size, const char *what, const char *path)
{
    snprintf(fault, size, "cannot %s %s: %s", what, path, strerror(errno));
    return false;
}

/* Reading --------------------------------------------------------------------------------------------------------- */

/* The first bytes tell what is no saved run, before more of it is read. */
static bool read_open(FILE *file, struct wr_bytes *bytes)
{
    unsigned char piece[65536];
    size_t wanted = WR_RESUME_MAGIC, length;
    while ((length = fread(piece, 1, wanted, file)) > 0) {
        if (!wr_bytes_add(bytes, piece, length)) {
            errno = ENOMEM;
            return false;
        }
        if (!wr_resume_is_saved_run(bytes->data, bytes->length))
            return true; /* who reads it says so */
        wanted = sizeof piece;
    }
    return !ferror(file);
}

bool wr_state_file_read(const char *path, struct wr_bytes *bytes, char *fault, size_t size)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        return say_errno(fault, size, "open", "it");
    const bool good = read_open(file, bytes);
    if (!good)
        say_errno(fault, size, "read", "it");
    fclose(file);
    return good;
}

/* Writing --------------------------------------------------------------------------------------------------------- */

/* Whether a path may be written to: nothing is there, or an empty file, or a saved run. */
static enum wr_saved examine(const char *path, char *fault, size_t size)
{
    struct stat status;
    unsigned char first[WR_RESUME_MAGIC];
    if (stat(path, &status) != 0) {
        if (errno == ENOENT && path[0] != '\0')
            return WR_SAVED;
        say_errno(fault, size, "look at", path);
        return path[0] == '\0' ? WR_SAVE_REFUSED : WR_SAVE_FAILED;
    }
    if (S_ISREG(status.st_mode) && status.st_size == 0)
        return WR_SAVED;
    FILE *file = S_ISREG(status.st_mode) ? fopen(path, "rb") : NULL;
    const size_t length = file != NULL ? fread(first, 1, sizeof first, file) : 0;
    if (file != NULL)
        fclose(file);
    if (wr_resume_is_saved_run(first, length))
        return WR_SAVED;
    snprintf(fault, size, "%s is there already and is no saved run; it is left as it is", path);
    return WR_SAVE_REFUSED;
}

/* As open to others as the user's mask lets it be. */
static bool write_open(int descriptor, const struct wr_bytes *bytes)
{
    const mode_t mask = umask(0);
    umask(mask);
    FILE *file = fchmod(descriptor, 0666 & ~mask) == 0 ? fdopen(descriptor, "wb") : NULL;
    if (file == NULL) {
        close(descriptor);
        return false;
    }
    const bool good = fwrite(bytes->data, 1, bytes->length, file) == bytes->length;
    return fclose(file) == 0 && good;
}

/* Under a name of its own beside the place it is meant for, which it takes when whole. */
static bool write_whole(const char *path, const struct wr_bytes *bytes)
{
    struct wr_page page = {0};
    wr_page_add(&page, "%s.partial-XXXXXX", path);
    char *partial = wr_page_take(&page);
    const int descriptor = mkstemp(partial);
    const bool good = descriptor >= 0 && write_open(descriptor, bytes) && rename(partial, path) == 0;
    const int why = errno;
    if (!good && descriptor >= 0)
        unlink(partial);
    free(partial);
    errno = why;
    return good;
}

enum wr_saved wr_answer_save_state(const struct wr_answer *answer, const char *path, char *fault, size_t size)
{
    if (answer->outcome > WR_OUTCOME_FAILS || answer->state.length == 0) {
        snprintf(fault, size, "there is no run to save in %s", path);
        return WR_SAVE_REFUSED;
    }
    const enum wr_saved saved = examine(path, fault, size);
    if (saved != WR_SAVED)
        return saved;
    char *plain = realpath(path, NULL); /* a link stays one */
    const bool good = write_whole(plain != NULL ? plain : path, &answer->state);
    if (!good)
        say_errno(fault, size, "write", path);
    free(plain);
    return good ? WR_SAVED : WR_SAVE_FAILED;
}
