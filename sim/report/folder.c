/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/folder.h"

#include "sim/report/picture.h"

#include <cjson/cJSON.h>
#include <dirent.h>
#include <errno.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Every name that a run folder may hold, whatever the command, beside its pictures. */
static const char *const known_files[] = {
    "about.json", "answer.json",     "scenario.json",   "report.txt",      "washes.csv",      "spans.csv",
    "tanks.csv",  "sludge.csv",      "emergency.csv",   "ladder.csv",      "margin.csv",      "map.csv",
    "sweep.csv",  "scenario-B.json", "scenario-C.json", "scenario-D.json", "scenario-E.json", "scenario-F.json"};

/* Where to say what is wrong. */
struct fault {
    char *text;
    size_t size;
};

static enum wr_folder_status say(const struct fault *fault, enum wr_folder_status status, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static enum wr_folder_status say(const struct fault *fault, enum wr_folder_status status, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(fault->text, fault->size, format, arguments);
    va_end(arguments);
    return status;
}

/* "A/B" in memory of its own, NULL without memory. */
static char *join(const char *a, const char *between, const char *b)
{
    const size_t size = strlen(a) + strlen(between) + strlen(b) + 1;
    char *joined = malloc(size);
    if (joined != NULL)
        snprintf(joined, size, "%s%s%s", a, between, b);
    return joined;
}

/* What is there now ------------------------------------------------------------------------------------------------ */

static bool is_known(const char *name)
{
    for (size_t i = 0; i < sizeof known_files / sizeof *known_files; i++)
        if (strcmp(known_files[i], name) == 0)
            return true;
    return wr_picture_is_file(name);
}

/* True when the text of an about.json says that this program wrote it. */
static bool is_ours(const char *text)
{
    struct cJSON *about = cJSON_Parse(text);
    const struct cJSON *program = cJSON_GetObjectItemCaseSensitive(about, "program");
    const char *name = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(program, "name"));
    const bool ours = name != NULL && strcmp(name, "washrota") == 0;
    cJSON_Delete(about);
    return ours;
}

static bool has_our_about(const char *folder)
{
    char text[4096];
    char *path = join(folder, "/", "about.json");
    FILE *file = path != NULL ? fopen(path, "r") : NULL;
    free(path);
    if (file == NULL)
        return false;
    const size_t length = fread(text, 1, sizeof text - 1, file);
    fclose(file);
    text[length] = '\0';
    return is_ours(text);
}

/* Looks at what a folder holds: how many entries, and the first that no run folder has (in memory of its own). */
static bool look(const char *folder, size_t *entries, char **stranger)
{
    DIR *directory = opendir(folder);
    *entries = 0;
    *stranger = NULL;
    if (directory == NULL)
        return false;
    for (const struct dirent *entry; (entry = readdir(directory)) != NULL;) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        ++*entries;
        if (*stranger == NULL && !is_known(entry->d_name))
            *stranger = join(entry->d_name, "", "");
    }
    closedir(directory);
    return true;
}

/* Whether the place may be taken; `old` tells that a run folder stands there. */
static enum wr_folder_status examine(const char *folder, bool *old, const struct fault *fault)
{
    struct stat status;
    size_t entries;
    char *stranger;
    *old = false;
    if (stat(folder, &status) != 0)
        return errno == ENOENT ? WR_FOLDER_WRITTEN
                               : say(fault, WR_FOLDER_FAILED, "cannot look at %s: %s", folder, strerror(errno));
    if (!S_ISDIR(status.st_mode))
        return say(fault, WR_FOLDER_REFUSED, "%s is no folder", folder);
    if (!look(folder, &entries, &stranger))
        return say(fault, WR_FOLDER_FAILED, "cannot read %s: %s", folder, strerror(errno));
    *old = entries > 0;
    enum wr_folder_status answer = WR_FOLDER_WRITTEN;
    if (entries > 0 && !has_our_about(folder))
        answer = say(fault, WR_FOLDER_REFUSED, "%s is not empty and is no run folder; it is left as it is", folder);
    else if (stranger != NULL)
        answer = say(fault, WR_FOLDER_REFUSED,
                     "%s holds %s besides an older run; it is left as it is, since replacing it would lose that",
                     folder, stranger);
    free(stranger);
    return answer;
}

/* Writing --------------------------------------------------------------------------------------------------------- */

/* Removes the files that a run folder may hold, and the folder. */
static void remove_folder(const char *folder)
{
    DIR *directory = opendir(folder);
    for (const struct dirent *entry; directory != NULL && (entry = readdir(directory)) != NULL;) {
        char *path = is_known(entry->d_name) ? join(folder, "/", entry->d_name) : NULL;
        if (path != NULL)
            unlink(path);
        free(path);
    }
    if (directory != NULL)
        closedir(directory);
    rmdir(folder);
}

static bool write_file(const char *folder, const struct wr_folder_file *file)
{
    char *path = join(folder, "/", file->name);
    FILE *out = path != NULL ? fopen(path, "w") : NULL;
    free(path);
    if (out == NULL)
        return false;
    file->write(out, file->what);
    const bool good = !ferror(out);
    return fclose(out) == 0 && good;
}

/* Makes the folders above the last part of a path. */
static void make_parents(char *path)
{
    for (char *slash = path + 1; (slash = strchr(slash, '/')) != NULL; slash++) {
        *slash = '\0';
        mkdir(path, 0777);
        *slash = '/';
    }
}

/* A folder of its own beside the place it is meant for, as open to others as the user's mask lets it be. */
static bool make_partial(char *pattern)
{
    if (mkdtemp(pattern) == NULL)
        return false;
    const mode_t mask = umask(0);
    umask(mask);
    return chmod(pattern, 0777 & ~mask) == 0;
}

static bool write_files(const char *folder, const struct wr_folder_file *files, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!write_file(folder, &files[i]))
            return false;
    return true;
}

/* Puts a whole folder in its place; what stood there goes aside first and is removed when the new one stands. */
static bool take_place(const char *partial, const char *folder, bool old)
{
    char *aside = join(partial, "", "-old");
    bool placed = aside != NULL && (!old || rename(folder, aside) == 0);
    if (placed && rename(partial, folder) != 0) {
        const int why = errno;
        placed = false;
        if (old)
            rename(aside, folder);
        errno = why;
    } else if (placed && old)
        remove_folder(aside);
    free(aside);
    return placed;
}

static enum wr_folder_status write_whole(char *folder, bool old, const struct wr_folder_file *files, size_t count,
                                         const struct fault *fault)
{
    char *partial = join(folder, ".partial-", "XXXXXX");
    if (partial == NULL)
        return say(fault, WR_FOLDER_FAILED, "there is not enough memory to write %s", folder);
    enum wr_folder_status status = WR_FOLDER_WRITTEN;
    make_parents(folder);
    if (!make_partial(partial))
        status = say(fault, WR_FOLDER_FAILED, "cannot make a folder beside %s: %s", folder, strerror(errno));
    else if (!write_files(partial, files, count) || !take_place(partial, folder, old)) {
        status = say(fault, WR_FOLDER_FAILED, "cannot write %s: %s", folder, strerror(errno));
        remove_folder(partial);
    }
    free(partial);
    return status;
}

/* The path of a folder without links and slashes at its end, so that it can be renamed. */
static char *plain_path(const char *folder)
{
    char *path = realpath(folder, NULL);
    if (path == NULL && errno == ENOENT)
        path = join(folder, "", "");
    for (size_t length = path != NULL ? strlen(path) : 0; length > 1 && path[length - 1] == '/'; length--)
        path[length - 1] = '\0';
    return path;
}

enum wr_folder_status wr_folder_write(const char *folder, const struct wr_folder_file *files, size_t count, char *text,
                                      size_t size)
{
    const struct fault fault = {text, size};
    if (folder[0] == '\0')
        return say(&fault, WR_FOLDER_REFUSED, "the name of the folder is empty");
    char *path = plain_path(folder);
    if (path == NULL)
        return say(&fault, WR_FOLDER_FAILED, "cannot reach %s: %s", folder, strerror(errno));
    bool old;
    enum wr_folder_status status = examine(path, &old, &fault);
    if (status == WR_FOLDER_WRITTEN)
        status = write_whole(path, old, files, count, &fault);
    free(path);
    return status;
}
