/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/gnuplot.h"

#include "sim/cli/cli.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

/* Scripts --------------------------------------------------------------------------------------------------------- */

/* The file by which a folder of scripts is known. */
static const char mark[] = "style.gp";

/* Puts a path in parts together; false where it is too long. */
static bool join(char *path, size_t size, const char *folder, const char *name)
{
    const int length = snprintf(path, size, "%s/%s", folder, name);
    return length > 0 && (size_t)length < size;
}

static bool has_scripts(const char *folder)
{
    char path[PATH_MAX];
    return join(path, sizeof path, folder, mark) && access(path, R_OK) == 0;
}

/* The folder in which the program stands. */
static bool find_program(char *folder, size_t size)
{
    const ssize_t length = readlink("/proc/self/exe", folder, size);
    if (length <= 0 || (size_t)length >= size)
        return false;
    folder[length] = '\0';
    char *slash = strrchr(folder, '/');
    if (slash == NULL)
        return false;
    *slash = '\0';
    return true;
}

bool wr_gnuplot_find_scripts(char *folder, size_t size)
{
    char program[PATH_MAX];
    const char *own = getenv("WASHROTA_PLOTS");
    if (own != NULL && *own != '\0') {
        if (has_scripts(own) && (size_t)snprintf(folder, size, "%s", own) < size)
            return true;
        wr_say_wrong("there are no scripts for pictures in %s, which WASHROTA_PLOTS names", own);
        return false;
    }
    if (find_program(program, sizeof program) && join(folder, size, program, WR_PLOTS_FROM_PROGRAM) &&
        has_scripts(folder))
        return true;
    static const char *const places[] = {WR_PLOTS_OF_TREE, WR_PLOTS_INSTALLED};
    for (size_t i = 0; i < sizeof places / sizeof *places; i++)
        if (has_scripts(places[i]) && (size_t)snprintf(folder, size, "%s", places[i]) < size)
            return true;
    wr_say_wrong("the scripts for pictures are not found; WASHROTA_PLOTS may name their folder");
    return false;
}

/* What gnuplot is told ----------------------------------------------------------------------------------------------
 */

/* Text in single quotes, of which gnuplot reads two as one. */
static void put_quoted(FILE *stream, const char *text)
{
    fputc('\'', stream);
    for (; *text != '\0'; text++) {
        if (*text == '\'')
            fputc('\'', stream);
        fputc(*text, stream);
    }
    fputc('\'', stream);
}

/* A file without a name that holds what gnuplot is told, ready to be read; NULL where there is none. */
static FILE *write_input(const struct wr_drawing *drawing)
{
    char folder[PATH_MAX];
    if (!wr_gnuplot_find_scripts(folder, sizeof folder))
        return NULL;
    FILE *input = tmpfile();
    if (input == NULL) {
        wr_say_wrong("cannot write for gnuplot: %s", strerror(errno));
        return NULL;
    }
    fprintf(input, "wr_term = '%s'\nset loadpath ", drawing->term);
    put_quoted(input, folder);
    fprintf(input, "\n%sload '%s.gp'\n", drawing->text, drawing->name);
    if (fflush(input) == 0 && !ferror(input)) {
        rewind(input);
        return input;
    }
    wr_say_wrong("cannot write for gnuplot: %s", strerror(errno));
    fclose(input);
    return NULL;
}

/* Running it --------------------------------------------------------------------------------------------------------
 */

/* Starts gnuplot on three streams, without the settings of its user. Returns 0, or the error. */
static int start(pid_t *child, int input, int output, int faults)
{
    static char name[] = "gnuplot", plain[] = "--default-settings", from_input[] = "-";
    char *const arguments[] = {name, plain, from_input, NULL};
    posix_spawn_file_actions_t actions;
    int error = posix_spawn_file_actions_init(&actions);
    if (error != 0)
        return error;
    const int streams[] = {input, output, faults};
    for (int number = 0; number < 3 && error == 0; number++)
        error = posix_spawn_file_actions_adddup2(&actions, streams[number], number);
    if (error == 0)
        error = posix_spawnp(child, name, &actions, NULL, arguments, environ);
    posix_spawn_file_actions_destroy(&actions);
    return error;
}

/* What gnuplot complained of, its last lines. */
static void say_faults(FILE *faults)
{
    char text[2048];
    fseek(faults, 0, SEEK_END);
    const long size = ftell(faults);
    fseek(faults, size > (long)sizeof text - 1 ? size - (long)sizeof text + 1 : 0, SEEK_SET);
    const size_t length = fread(text, 1, sizeof text - 1, faults);
    text[length] = '\0';
    wr_say_wrong("gnuplot could not draw the picture:\n%s", text);
}

static int wait_for(pid_t child, FILE *faults)
{
    int status;
    pid_t ended;
    do
        ended = waitpid(child, &status, 0);
    while (ended == -1 && errno == EINTR);
    if (ended == child && WIFEXITED(status) && WEXITSTATUS(status) == 0)
        return WR_EXIT_PASSES;
    say_faults(faults);
    return WR_EXIT_FAULT;
}

/* Draws to an open file. */
static int draw(const struct wr_drawing *drawing, int output)
{
    FILE *input = write_input(drawing);
    if (input == NULL)
        return WR_EXIT_FAULT;
    FILE *faults = tmpfile();
    pid_t child;
    const int error = faults != NULL ? start(&child, fileno(input), output, fileno(faults)) : errno;
    int status = WR_EXIT_FAULT;
    if (error == 0)
        status = wait_for(child, faults);
    else if (error == ENOENT)
        wr_say_wrong("pictures are drawn by gnuplot, which is not there; on Debian it is the package gnuplot-nox");
    else
        wr_say_wrong("cannot start gnuplot: %s", strerror(error));
    if (faults != NULL)
        fclose(faults);
    fclose(input);
    return status;
}

/* Where pictures go -------------------------------------------------------------------------------------------------
 */

/* As open to others as the user's mask lets a new file be. */
static bool open_to_others(int file)
{
    const mode_t mask = umask(0);
    umask(mask);
    return fchmod(file, 0666 & ~mask) == 0;
}

int wr_gnuplot_file(const struct wr_drawing *drawing, const char *path)
{
    static const char ending[] = ".partial-XXXXXX";
    char partial[PATH_MAX];
    const int length = snprintf(partial, sizeof partial, "%s%s", path, ending);
    errno = ENAMETOOLONG;
    const int file = length > 0 && (size_t)length < sizeof partial ? mkstemp(partial) : -1;
    if (file == -1) {
        wr_say_wrong("cannot write %s: %s", path, strerror(errno));
        return WR_EXIT_FAULT;
    }
    int status = draw(drawing, file);
    const bool written = open_to_others(file);
    if (close(file) != 0 || !written || (status == WR_EXIT_PASSES && rename(partial, path) != 0)) {
        wr_say_wrong("cannot write %s: %s", path, strerror(errno));
        status = WR_EXIT_FAULT;
    }
    if (status != WR_EXIT_PASSES)
        unlink(partial);
    return status;
}

/* Copies a picture of characters, without blanks at the ends of its lines and form feeds. */
static void copy_lines(FILE *from, FILE *to)
{
    size_t blanks = 0;
    int last = '\n';
    for (int c; (c = getc(from)) != EOF; last = c) {
        if (c == '\f')
            continue;
        blanks = c == ' ' ? blanks + 1 : blanks;
        if (c == ' ')
            continue;
        for (; blanks > 0 && c != '\n'; blanks--)
            putc(' ', to);
        blanks = 0;
        putc(c, to);
    }
    if (last != '\n')
        putc('\n', to);
}

int wr_gnuplot_stream(const struct wr_drawing *drawing, FILE *stream)
{
    FILE *picture = tmpfile();
    if (picture == NULL) {
        wr_say_wrong("cannot keep a picture: %s", strerror(errno));
        return WR_EXIT_FAULT;
    }
    const int status = draw(drawing, fileno(picture));
    rewind(picture);
    if (status == WR_EXIT_PASSES)
        copy_lines(picture, stream);
    fclose(picture);
    return status;
}
